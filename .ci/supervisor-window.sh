#!/usr/bin/env bash
# The supervisor's work in a real window under a virtual display: `supervisor-window.sh PROGRAM`.
#
# The editor test `window_signed` walks, weighs and signs without a display and writes down each move of the hand; the
# same moves made in a real window must leave the same records and a signature that matches. WINDOW_DISPLAY and
# WINDOW_SHOTS as in window.sh.
set -euo pipefail
cd "$(dirname "$0")/.."
program=$(realpath "$1")
# shellcheck source=.ci/window.sh
. .ci/window.sh

echo 'the moves of the hand'
moves_of window_signed
plan="$work/c-two-sites.longstow"
cp sample-loads/c-two-sites.longstow "$plan"
start_display
start_program 'c-two-sites' "$program" "$plan"
replay
for _ in $(seq 50); do cmp -s sample-loads/c-two-sites.longstow "$plan" || break; sleep 0.1; done
shot signed

echo 'what the window saved'
cat "$work/log"
LONGSTOW_WINDOW_RESULT="$plan" cargo test --locked --quiet --test editor window_signed
# The same test must fail on a plan that nobody walked and signed.
if LONGSTOW_WINDOW_RESULT=sample-loads/c-two-sites.longstow \
  cargo test --locked --quiet --test editor window_signed >/dev/null 2>&1; then
  echo 'the test passes a plan without records'
  exit 1
fi
# The commands tell of the same records: a string differs, so the command ends with 1.
"$program" loaded "$plan" >"$work/loaded" && { echo 'no difference is told'; exit 1; }
grep -q 'S07 L' "$work/loaded" || { cat "$work/loaded"; exit 1; }
echo 'the real window recorded, weighed and signed as the test did'
