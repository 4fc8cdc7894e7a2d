ex=$1; shift
for v in air saline glucose; do
case $v in air) L="";; *) L="--set wall.liquid.fluid=$v --set wall.liquid.depth_mm=5 $B";; esac
/tmp/mhb run --formats none -o r-$v $L "$@" $ex.yaml > o-$v.txt 2>&1 || tail -3 o-$v.txt
python3 - r-$v <<'P'
import csv,sys
r=next(csv.DictReader(open(sys.argv[1]+'/summary.csv')))
for k in r:
    if any(k.startswith(x) for x in ['depth_mm','max_depth','injury_depth','energy_','mean_power','peak_volt','kerf','beside','path','sustained','spark','resist','outer_max','cut_','removed','held','parted','mm_','loop','stalk','margin','remark','current']) and r[k] not in ('','0'): print(k,r[k][:90],end='; ')
print()
P
done
