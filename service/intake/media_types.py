"""The media types that are read."""

JSON = "application/json"
CSV = "text/csv"
TSV = "text/tab-separated-values"
NDJSON = "application/x-ndjson"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
TABLES = (CSV, TSV, NDJSON, XLSX)
"""Readings without a trial."""
READ = (JSON, *TABLES)
ENDINGS = {
    ".csv": CSV,
    ".tsv": TSV,
    ".tab": TSV,
    ".ndjson": NDJSON,
    ".jsonl": NDJSON,
    ".json": JSON,
    ".xlsx": XLSX,
}
"""What a file is by the ending of its name."""
SEPARATORS = {CSV: (",", ";", "\t", "|"), TSV: ("\t",)}
