"""`gauge-table-unknown`: a gauge number without its table may mean several diameters."""

from service.analysis.cautions.caution import Caution
from service.analysis.geometry import Compared
from service.radio.gauges import meanings_mm


def gauge_table_unknown(facts: Compared) -> Caution | None:
    """Raised where an element has a gauge number alone and no diameter; tells what the number may mean."""
    if facts.trial.compares != "element":
        return None
    found = [
        {
            "element": element.id,
            "number": element.gauge.number,
            "meanings": [
                {"table": table, "diameter_mm": diameter}
                for table, diameter in meanings_mm(element.gauge.number).items()
            ],
        }
        for element in facts.trial.elements
        if element.gauge is not None and element.gauge.table is None and element.diameter_mm is None
    ]
    return Caution("gauge-table-unknown", "warning", {"elements": found}) if found else None
