#!/bin/sh
# Computes the cases again by which the numerical error of sweeps is judged, some five minutes of one core, the stalks half an hour: each plan refined, at
# quality standard, and on a reference of cells and steps a quarter as large. Needs go and python3. With names of plans behind it, only
# those. What is stored are the columns that the test needs.
set -eu
cd "$(dirname "$0")"
[ $# -gt 0 ] || set -- touch disc sparks stalk
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
(cd ../../.. && go build -o "$work/muralheat" ./cmd/muralheat)
for plan; do
  cells=50
  [ "$plan" = stalk ] && cells=25 # draft has 100 um there
  "$work/muralheat" sweep -q --refine -o "$work/$plan" "$plan.yaml"
  "$work/muralheat" sweep -q -o "$work/reference" --set numerics.finest_um=$cells --set numerics.growth_percent=10 --set numerics.tolerance=0.0005 \
    --set numerics.resolve_percent=0.25 --set numerics.max_step_ms=5 "$plan.yaml"
  [ "$plan" = stalk ] || "$work/muralheat" sweep -q -o "$work/standard" --set numerics.quality=standard "$plan.yaml"
  python3 keep.py "$work" "$plan"
  rm -rf "$work/reference" "$work/standard"
done
