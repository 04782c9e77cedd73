"""The media types that are read."""

JSON = "application/json"
CSV = "text/csv"
TSV = "text/tab-separated-values"
READ = (JSON, CSV, TSV)
SEPARATORS = {CSV: (",", ";", "\t"), TSV: ("\t",)}
