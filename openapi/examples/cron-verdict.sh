#!/bin/sh
# Sends new files of readings to a kept trial, asks for its verdict, and speaks only when the verdict has changed;
# cron mails what a job says. Once an hour:
#
#   0 * * * *  TRIAL=3f0c... SERVER=http://127.0.0.1:8080 FOLDER=$HOME/trial sh cron-verdict.sh
#
# New files are looked for in $FOLDER/new and end in $FOLDER/sent. One that is not taken stays, and every run says
# why until it is mended. Sending may be cut off anywhere: what was kept already is not kept twice. Where the service
# wants a token, AERIAL_ASSAY_TOKEN has it. Needs aerial-assay, curl, python3 and flock.
set -eu
: "${TRIAL:?the id of the trial is wanted here}" "${SERVER:?the address of the service is wanted here}"
: "${FOLDER:?the folder with new and sent is wanted here}"
mkdir -p "$FOLDER/new" "$FOLDER/sent"
exec 9> "$FOLDER/lock"
flock -n 9 || exit 0  # the last run is still at it

status=0
for file in "$FOLDER/new"/*; do
  [ -f "$file" ] || continue
  if aerial-assay send "$TRIAL" "$file" --server "$SERVER" > "$FOLDER/log" 2>&1; then
    mv "$file" "$FOLDER/sent/"
  else
    echo "$file was not taken:" >&2
    cat "$FOLDER/log" >&2
    status=3
  fi
done

# The token goes through a pipe: what stands on a command line, every user of the machine can read.
header() { [ -z "${AERIAL_ASSAY_TOKEN:-}" ] || echo "Authorization: Bearer $AERIAL_ASSAY_TOKEN"; }
header | curl --silent --show-error --fail-with-body --max-time 300 --header @- --request POST \
  --output "$FOLDER/analysis.json" "$SERVER/v1/trials/$TRIAL/analyses" || {
    cat "$FOLDER/analysis.json" >&2  # why not, where the service answered
    exit 3
  }

# First line: what has to change for word to be sent. Its figures move with every round; outcome and winner do not.
python3 - "$FOLDER/analysis.json" > "$FOLDER/verdict.new" << 'END'
import json, sys
analysis = json.load(open(sys.argv[1], encoding="utf-8"))
verdict = analysis["analysis"]["verdict"]
print(verdict["outcome"], verdict["winner"] or "")
print(verdict["statement"])
print("Report:", analysis["links"]["report"] + "?form=pdf")
END
if [ "$(head -n 1 "$FOLDER/verdict.new")" != "$(head -n 1 "$FOLDER/verdict" 2> /dev/null)" ]; then
  cat "$FOLDER/verdict.new"
fi
mv "$FOLDER/verdict.new" "$FOLDER/verdict"
exit $status
