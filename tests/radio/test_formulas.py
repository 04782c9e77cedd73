"""What the losses rest on is told, and what was only remembered says so."""

from service.radio.formulas import FORMULAS


def test_every_part_has_a_source_and_a_status_of_the_known_kinds():
    known = ("computed", "secondary", "memory")
    assert all(formula.source and formula.status.startswith(known) for formula in FORMULAS)
    assert len({formula.name for formula in FORMULAS}) == len(FORMULAS)


def test_judgements_and_constants_are_not_passed_off_as_looked_up():
    told = {formula.name: formula.document()["status"] for formula in FORMULAS}
    assert told["constants of nature"] == "memory"
    assert told["strip and strand, 1 to 2 times a smooth conductor of the same outline"] == "memory"
    assert "judgement" in told["permeability of ferromagnetic metals at VHF and UHF, 1 to 300"]
