#!/usr/bin/env bash
# The trainee's work in a real window under a virtual display, from the first start: `trainee-window.sh PROGRAM`.
#
# The editor test `window_trained` does the work without a display and writes down each move of the hand; the same moves
# made in a real window must lead to the same exercises kept as solved. WINDOW_DISPLAY and WINDOW_SHOTS as in window.sh.
set -euo pipefail
cd "$(dirname "$0")/.."
program=$(realpath "$1")
# shellcheck source=.ci/window.sh
. .ci/window.sh

echo 'the moves of the hand'
moves_of window_trained
start_display
start_program 'Longstow' "$program"
replay
settings="$work/longstow/settings"
for _ in $(seq 50); do grep -q 'exercises solved' "$settings" 2>/dev/null && break; sleep 0.1; done
shot done

echo 'what the window kept'
cat "$work/log"
[ -s "$settings" ] || { echo 'nothing was kept'; exit 1; }
LONGSTOW_WINDOW_RESULT="$settings" cargo test --locked --quiet --test editor window_trained
# The same test must fail on settings in which nothing is solved.
echo 'colours = light' >"$work/nothing"
if LONGSTOW_WINDOW_RESULT="$work/nothing" cargo test --locked --quiet --test editor window_trained >/dev/null 2>&1; then
  echo 'the test passes settings in which nothing is solved'
  exit 1
fi
echo 'the real window kept the exercises of the test as solved'
