"""What `unsaid` finds and is no sentence, by module: values of documents, marks, addresses, styles, types."""

from typing import Final

NO_SENTENCES: Final = {
    "reports/charts/__init__.py": {"Callable[[Any, float], Canvas]"},
    "reports/charts/canvas.py": {"DejaVu Sans"},
    "reports/charts/grid.py": {"DejaVu Sans", "as good"},
    "reports/data_tables.py": {
        "leader against", "reception by round", "reception pairs", "looks taken", "conductor loss",
        "left out", "struck runs",
    },
    "reports/document.py": {"clear winner", "within noise", "needs more runs"},
    "reports/fonts.py": {
        "DejaVu Sans", "DejaVu Sans Mono",
        '@font-face { font-family: "{}"; font-weight: {}; src: url("{}") }',
    },
    "reports/html.py": {
        "default-src 'none'; style-src 'sha256-{}'; img-src data:; base-uri 'none'; form-action 'none'",
        "data:image/svg+xml;base64,{}",
    },
    "reports/junit_xml.py": {'<?xml version="1.0" encoding="UTF-8"?>\n{}\n'},
    "reports/page.py": {"@page { size: {} }"},
    "reports/pdf.py": {
        "PDF reports need the pango library, which is not installed here: apt-get install -y "
        "--no-install-recommends libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
        "@page { @bottom-right { content: {} } }", "data:image/svg+xml;base64,{}",
    },
    "reports/plans/cells.py": {"not scanned"},
    "reports/plans/workbook.py": {
        'LOWER(TRIM({}))="{}"', "AND(ISNUMBER({}),{}>={},{}<={})", "OR({},{})",
    },
    "reports/view/grid.py": {"as good"},
    "reports/view/pairs.py": {"name wide"},
    "reports/view/pairs_beside.py": {"name wide"},
    "reports/wording/cautions/meter.py": {"not scanned"},
    "reports/wording/cautions/rounds.py": {"looks: every round"},
    "reports/wording/check_outcomes.py": {"falls short"},
    "reports/wording/check_reasons.py": {"or with"},
    "reports/wording/design_history.py": {"no creep beyond the margin", "needs more trials"},
    "reports/wording/metal.py": {"{} dB"},
    "reports/wording/value_pick.py": {"minutes to make"},
    "service/pages/answering.py": {"text/html; charset=utf-8", "private, no-cache"},
    "service/pages/assets.py": {"text/css; charset=utf-8", "text/javascript; charset=utf-8"},
    "service/pages/kept_list.py": {"tuple[Any, NewBatch]"},
    "service/pages/run_rows.py": {"state:{}", "value:{}"},
    "service/pages/sent_once.py": {"POST {} {} {}"},
    "service/pages/static_files.py": {"public, max-age={}, immutable", "public, max-age={}"},
    "service/pages/verdict_parts.py": {"data:image/svg+xml,{}"},
}  # fmt: skip
