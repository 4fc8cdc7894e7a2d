#!/bin/sh
# Computes the reference values again: three cases on three meshes with three steps each, about
# a quarter of an hour on one core. Needs FreeFem++ (apt-get install --no-install-recommends freefem++).
set -eu
cd "$(dirname "$0")"
version=$(FreeFem++ -nw /dev/null 2>/dev/null | sed -n 's/.*FreeFem++ v\([0-9.]*\).*/\1/p' | head -1)
for case in disc needle coupled; do
  {
    echo "# $case.yaml by fem.edp, FreeFem++ ${version:-of unknown version}, quadratic triangles"
    echo "# mesh,quantity,unit,time_s,value"
    for run in "0.7 0.05" "1 0.05" "1.4 0.04"; do
      set -- $run
      FreeFem++ -nw -v 0 fem.edp -case "$case" -n "$1" -dt "$2" -out part.csv >/dev/null
      sed "1d; s/^/n$1,/" part.csv
    done
  } > "$case.csv"
  rm -f part.csv
done
