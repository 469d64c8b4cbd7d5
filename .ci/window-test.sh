#!/usr/bin/env bash
# The main job in a real window under a virtual display, with mouse and keys: `window-test.sh PROGRAM`.
#
# The editor test `window_saved` does the job without a display and writes down each move of the hand; here
# the same moves are made in a window of the same size, and what it saves must be the same plan with the same
# figures. WINDOW_DISPLAY sets the display (:99), WINDOW_SHOTS a folder for screenshots.
set -euo pipefail
cd "$(dirname "$0")/.."
program=$(realpath "$1")
# shellcheck source=.ci/window.sh
. .ci/window.sh

echo 'the moves of the hand'
moves_of window_saved
cp sample-loads/c-two-sites.longstow "$work/c-two-sites.longstow"
start_display
start_program 'c-two-sites' "$program" "$work/c-two-sites.longstow"
replay
for _ in $(seq 50); do cmp -s sample-loads/c-two-sites.longstow "$work/c-two-sites.longstow" || break; sleep 0.1; done
shot saved

echo 'what the window saved'
cat "$work/log"
LONGSTOW_WINDOW_RESULT="$work/c-two-sites.longstow" cargo test --locked --quiet --test editor window_saved
# The same test must fail on a file that nobody changed.
if LONGSTOW_WINDOW_RESULT=sample-loads/c-two-sites.longstow \
  cargo test --locked --quiet --test editor window_saved >/dev/null 2>&1; then
  echo 'the test passes an unchanged file'
  exit 1
fi
for command in check figures; do
  "$program" "$command" --json "$work/c-two-sites.longstow" >"$work/$command.json" || true
  [ -s "$work/$command.json" ] || { echo "$command has nothing to say of the saved plan"; exit 1; }
done
echo 'the real window saved the plan and the figures of the test'
