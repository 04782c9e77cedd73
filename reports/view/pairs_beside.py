"""Beside the pairs: tests that decide nothing, for the reader who checks."""

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.view.model import Bounds, Table
from reports.view.tables import table
from reports.wording.speech import Speech, listed


def beside(speech: Speech, named: list[tuple[str, doc.Entry]], bounds: Bounds) -> Table:
    """What other methods find for each pair; `named` are the pairs with their names, in order."""
    headings = [
        (say("pair"), "name wide"),
        (say("other rounds and channels"), "number"),
        (say("signed-rank p"), "number"),
        (say("sign test: + / \N{MINUS SIGN} / 0, p"), "number"),
        (f"Hodges-Lehmann{_level(speech)}", "number"),
        (say("rank-biserial"), "number"),
        (say("signals: first / second / neither"), "number"),
    ]
    rows = [_row(speech, name, pair) for name, pair in named]
    note = say(
        "Nothing in this table decides anything, and nothing is adjusted for several pairs. “Other rounds "
        "and channels”: crossed bootstrap, for the question whether it would hold on other rounds and other "
        "channels too; it needs 4 rounds and 3 signals."
    )
    return table(say("Beside it, for checking"), headings, rows, most=bounds.rows, notes=(note,))


def _row(speech: Speech, name: str, pair: doc.Entry) -> list[str]:
    boot, signs, counts = pair["bootstrap"], pair["sign_test"], pair["rf_channels"]
    return [
        name,
        numerals.between(boot["low"], boot["high"]) if boot else "",
        numerals.probability(pair["signed_rank"]["p_value"]) if pair["signed_rank"] else "",
        _signs(signs),
        _walsh(speech, pair["hodges_lehmann"]),
        numerals.fixed(pair["rank_biserial"], 2) if pair["rank_biserial"] is not None else "",
        f"{counts['favour_first']} / {counts['favour_second']} / {counts['ties']}" if counts else "",
    ]


def _walsh(speech: Speech, found: doc.Entry | None) -> str:
    if not found or found["estimate"] is None:
        return ""
    low, high = found["low"], found["high"]
    if low is None or high is None:
        return numerals.estimate(found["estimate"], doc.resolution(speech.document))
    middle = numerals.estimate(found["estimate"], numerals.half_width(low, high))
    return f"{middle} ({numerals.between(low, high)})"


def _level(speech: Speech) -> str:
    found = [pair["hodges_lehmann"] for pair in speech.document["pairs"] if pair["hodges_lehmann"]]
    levels = sorted({numerals.per_cent(entry["level"]) for entry in found if entry["level"] is not None})[:2]
    return f" ({listed(levels, joined='or')})" if levels else ""


def _signs(found: doc.Entry | None) -> str:
    if not found or found["positive"] is None:
        return ""
    p = numerals.probability(found["p_value"])
    return f"{found['positive']} / {found['negative']} / {found['ties']}" + (f", {p}" if p else "")


def are_all_equal(speech: Speech) -> list[str]:
    """Friedman's test with the agreement of the rounds, or nothing where there was none."""
    found = speech.document["all_equal"]
    if not found or found["statistic"] is None:
        return []
    test = say(
        "Are all equal? Friedman's test over rounds: statistic {statistic}, p {p} ({method})",
        statistic=numerals.fixed(found["statistic"], 2),
        p=_equals(found["p_value"]),
        method=_method(found["method"]),
    )
    agree = found["kendall_w"]
    if agree is None:
        return [f"{test}."]
    agreement = say("agreement of the rounds, Kendall's W {number}", number=numerals.fixed(agree, 2))
    return [f"{test}; {agreement}."]


def _method(method: str) -> str:
    """How p was made: "exact", or from how many draws, which the document writes as "19999 draws"."""
    drawn = method.removesuffix(" draws")
    return say("exact") if method == "exact" else say("{number} draws", number=doc.clean(drawn))


def _equals(p: float) -> str:
    text = numerals.probability(p)
    return text if text.startswith("<") else f"= {text}"
