#!/bin/sh
# Posts a spreadsheet (XLSX) and leaves the report on it, or says what is wrong with it, cell by cell:
#
#   SERVER=http://127.0.0.1:8080 sh post-spreadsheet.sh readings.xlsx verdict.pdf
#
# The meter is told in the query; what else a trial may say there, the description tells (/v1/openapi.json).
set -eu
if [ $# -ne 2 ] || [ -z "${SERVER:-}" ]; then
  echo "Give the spreadsheet and the file for the report, and where the service is:" >&2
  echo "  SERVER=http://127.0.0.1:8080 sh post-spreadsheet.sh readings.xlsx verdict.pdf" >&2
  exit 3
fi
curl --silent --show-error --fail-with-body --max-time 300 \
  --header 'Content-Type: application/vnd.openxmlformats-officedocument.spreadsheetml.sheet' \
  --data-binary "@$1" --output "$2" \
  "$SERVER/v1/verdicts?unit=dBuV&resolution=0.1&margin=1&form=pdf" || {
    cat "$2" >&2  # the problem, where the service answered with one
    rm -f "$2"
    exit 3
  }
echo "The report is in $2."
