# Keeps of the folders of a plan what TestBoundHolds and TestDepthErrors read. Called by recompute.sh.
import csv, json, os, sys

work, plan = sys.argv[1:]
columns = ["injury_depth_mm", "margin_to_muscle_mm", "coagulated_margin_to_muscle_mm", "cut_through_s", "energy_J", "energy_steam_J", "dry_out_s",
           "spark_share", "wall_mm"]


def keep(source, target, inputs):
    rows = list(csv.DictReader(open(source, newline="")))
    names = [c for c in ["case", "name", "point"] + inputs + ["status", "reason"] + columns if c in rows[0]]
    os.makedirs(os.path.dirname(target), exist_ok=True)
    with open(target, "w", newline="") as f:
        w = csv.DictWriter(f, names, extrasaction="ignore")
        w.writeheader()
        w.writerows(rows)


record = json.load(open(f"{work}/{plan}/sweep.json"))
inputs = [i["key"] for i in record["inputs"]]
record["columns"] = [c for c in record["columns"] if c["name"] in columns]
os.makedirs(plan, exist_ok=True)
json.dump(record, open(f"{plan}/sweep.json", "w"), indent=1)
json.dump(json.load(open(f"{work}/{plan}/refined.json")), open(f"{plan}/refined.json", "w"), indent=1)
keep(f"{work}/{plan}/results.csv", f"{plan}/results.csv", inputs)
keep(f"{work}/{plan}/refined/results.csv", f"{plan}/refined/results.csv", [])
keep(f"{work}/reference/results.csv", f"{plan}/reference.csv", [])
if os.path.exists(f"{work}/standard/results.csv"):
    keep(f"{work}/standard/results.csv", f"{plan}/standard.csv", [])
