#!/usr/bin/env bash
# Exit codes of the samples: loads to hand over 0, faulty ones 1, one with ratings missing 3.
set -euo pipefail
longstow=$1
expect() {
  local want=$1 plan=$2 got=0
  "$longstow" check "$plan" >/dev/null || got=$?
  if [ "$got" != "$want" ]; then echo "$plan: exit code $got, expected $want"; exit 1; fi
  echo "$plan: exit code $got"
}
for plan in sample-loads/[a-e]-*.longstow; do expect 0 "$plan"; done
for plan in sample-loads/[fg]-*.longstow; do expect 1 "$plan"; done
for plan in sample-loads/h-*.longstow; do expect 3 "$plan"; done
