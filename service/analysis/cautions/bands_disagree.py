"""`bands-disagree`: one band favours the first of two elements, another the second."""

from itertools import combinations

from service.analysis.bands import Band, BandPair, bands
from service.analysis.cautions.caution import LEVEL, Caution
from service.analysis.facts import Facts


def bands_disagree(facts: Facts) -> Caution | None:
    """Raised where the intervals of a pair in two bands lie on both sides of zero.

    At a level that allows for the number of pairs and bands (Bonferroni): one band in which two elements are
    alike, beside another in which they are not, would else raise it by chance in many a trial.
    """
    found = bands(facts) or ()
    level = 1 - LEVEL / max(1, len(found) * len(facts.pairs_of_ids))
    pairs = [entry for one, other in combinations(found, 2) for entry in _opposed(one, other, level)]
    return Caution("bands-disagree", "warning", {"pairs": pairs, "level": level}) if pairs else None


def _opposed(one: Band, other: Band, level: float) -> list[dict[str, object]]:
    return [
        {
            "first": here.first,
            "second": here.second,
            "bands": [_told(one, here, level), _told(other, there, level)],
        }
        for here, there in zip(one.pairs, other.pairs, strict=True)
        if _side(here, level) * _side(there, level) < 0
    ]


def _side(pair: BandPair, level: float) -> int:
    ends = pair.interval(level)
    return 0 if ends is None else (ends[0] > 0) - (ends[1] < 0)


def _told(band: Band, pair: BandPair, level: float) -> dict[str, object]:
    low, high = pair.interval(level) or (None, None)
    return {"band": band.name, "difference": pair.difference, "low": low, "high": high}
