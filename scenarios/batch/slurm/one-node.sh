#!/bin/bash
# Starts a Slurm of one node in folder $1, as root, and prints the line to source for
# its commands; one-node.sh $1 stop ends it. For tests.
set -euo pipefail
dir=$(realpath -m "$1")
host=$(hostname -s)
export SLURM_CONF=$dir/slurm.conf
if [ "${2:-start}" = stop ]; then
  for name in slurmd slurmctld; do
    if [ -s "$dir/$name.pid" ]; then kill "$(cat "$dir/$name.pid")" 2>/dev/null || true; fi
  done
  exit 0
fi
mkdir -p "$dir/state" "$dir/spool"
cat >"$SLURM_CONF" <<CONF
ClusterName=test
SlurmctldHost=$host(127.0.0.1)
SlurmUser=root
AuthInfo=cred_expire=5
StateSaveLocation=$dir/state
SlurmdSpoolDir=$dir/spool
SlurmctldPidFile=$dir/slurmctld.pid
SlurmdPidFile=$dir/slurmd.pid
SlurmctldLogFile=$dir/slurmctld.log
SlurmdLogFile=$dir/slurmd.log
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
ReturnToService=2
RequeueExit=75
SchedulerParameters=sched_interval=1,sched_min_interval=1000
NodeName=$host NodeAddr=127.0.0.1 CPUs=$(nproc) RealMemory=4000 State=UNKNOWN
PartitionName=all Nodes=$host Default=YES State=UP
CONF
if ! munge -n >/dev/null 2>&1; then
  install -d -o munge -g munge /run/munge
  runuser -u munge -- munged
fi
slurmctld -c
slurmd
for _ in $(seq 100); do
  if sinfo --noheader --format=%t 2>/dev/null | grep -q idle; then
    echo "export SLURM_CONF=$SLURM_CONF"
    exit 0
  fi
  sleep 0.2
done
echo "slurm: no idle node; see $dir/slurmctld.log and slurmd.log" >&2
exit 1
