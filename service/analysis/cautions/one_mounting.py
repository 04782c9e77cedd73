"""`one-mounting`: an element scanned again and again without having been put on afresh."""

from service.analysis.cautions.caution import Caution, stop
from service.analysis.facts import Facts
from service.analysis.noise import KNOWN_NOISE


def one_mounting(facts: Facts) -> Caution | None:
    """Raised where an element has several scans and one mounting only.

    More scans of one mounting say how steady the meter is, not how an element does when it is put on again.
    One mounting may also run through several rounds, told by its name. Silent where the verdict rests on a
    repeatability known from elsewhere, which supplies just what is missing.
    """
    mountings = facts.mountings_by_name
    scans = dict(zip(facts.ids, facts.table.by_channel.scans.sum(axis=1).tolist(), strict=True))
    suspects = {name for name in facts.ids if mountings.get(name) == 1 and scans[name] > 1}
    if not suspects or facts.judgement.design == KNOWN_NOISE:
        return None
    touched = {pair for pair in facts.pairs_of_ids if suspects & set(pair)}
    evidence = {
        "elements": [name for name in facts.ids if name in suspects],
        "scans": sum(scans[name] for name in suspects),
    }
    return stop(facts, "one-mounting", evidence=evidence, touched=touched)
