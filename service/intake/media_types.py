"""The media types that are read."""

JSON = "application/json"
CSV = "text/csv"
TSV = "text/tab-separated-values"
NDJSON = "application/x-ndjson"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
READ = (JSON, CSV, TSV, NDJSON, XLSX)
SEPARATORS = {CSV: (",", ";", "\t", "|"), TSV: ("\t",)}
