#!/bin/sh
# Computes the reference values again, 25 minutes of one core. Needs scipy and yaml of Python, and FreeFem++:
#
#   apt-get install --no-install-recommends python3-scipy python3-yaml freefem++
#
# With names of cases behind it, only those.
set -eu
cd "$(dirname "$0")"
export OPENBLAS_NUM_THREADS=1
[ $# -gt 0 ] || set -- disc needle coupled boiling drying track
version=$(FreeFem++ -nw /dev/null 2>/dev/null | sed -n 's/.*FreeFem++ v\([0-9.]*\).*/\1/p' | head -1)
other=$(mktemp)
trap 'rm -f "$other" "$other".csv "$other".new' EXIT
for case; do
  if [ "$case" = boiling ] || [ "$case" = drying ]; then # by one program only
    /usr/bin/python3 fem.py "$case.yaml" > "$other".new
  elif [ "$case" = track ]; then # likewise
    /usr/bin/python3 track.py "$case.yaml" > "$other".new
  else
    FreeFem++ -nw -v 0 fem.edp -case "$case" -n 1.4 -dt 0.04 -out "$other" > /dev/null
    { echo "# FreeFem++ ${version:-of unknown version} by fem.edp, n 1.4, steps of 0.04 s"; cat "$other"; } > "$other".csv
    /usr/bin/python3 fem.py "$case.yaml" "$other".csv > "$other".new
  fi
  cp "$other".new "$case.csv"
done
