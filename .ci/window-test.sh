#!/usr/bin/env bash
# The main job in a real window under a virtual display, with mouse and keys: `window-test.sh PROGRAM`.
#
# The editor test `window_saved` does the job without a display and writes down each move of the hand; here
# the same moves are made in a window of the same size, and what it saves must be the same plan with the same
# figures. WINDOW_DISPLAY sets the display (:99), WINDOW_SHOTS a folder for screenshots.
set -euo pipefail
cd "$(dirname "$0")/.."
program=$(realpath "$1")
display=${WINDOW_DISPLAY:-:99}
work=$(mktemp -d)
pids=()
finish() {
  # Newest first, each by its own id.
  for ((i = ${#pids[@]} - 1; i >= 0; i--)); do kill "${pids[i]}" 2>/dev/null || true; done
  wait 2>/dev/null || true
  rm -rf "$work"
}
trap finish EXIT

echo 'the moves of the hand'
LONGSTOW_WINDOW_MOVES="$work/moves" cargo test --locked --quiet --test editor window_saved
cp sample-loads/c-two-sites.longstow "$work/c-two-sites.longstow"

Xvfb "$display" -screen 0 1280x800x24 -nolisten tcp >/dev/null 2>&1 & pids+=($!)
export DISPLAY=$display
for _ in $(seq 100); do xdpyinfo >/dev/null 2>&1 && break; sleep 0.1; done
# Without decoration and maximized, the window is the screen: places in it are places on the screen.
cat >"$work/rc.xml" <<'XML'
<openbox_config xmlns="http://openbox.org/3.4/rc"><applications>
  <application class="*"><decor>no</decor><maximized>yes</maximized><focus>yes</focus></application>
</applications></openbox_config>
XML
openbox --config-file "$work/rc.xml" >/dev/null 2>&1 & pids+=($!)
sleep 1

# A home of its own, so that nothing of this machine's user shows in the window.
env -u WAYLAND_DISPLAY HOME="$work" XDG_CONFIG_HOME="$work" XDG_DATA_HOME="$work" XDG_STATE_HOME="$work" \
  XDG_CACHE_HOME="$work" WINIT_X11_SCALE_FACTOR=1 "$program" "$work/c-two-sites.longstow" \
  >"$work/log" 2>&1 & pids+=($!)
window=
for _ in $(seq 150); do
  window=$(xdotool search --onlyvisible --name 'c-two-sites' 2>/dev/null | tail -1) || true
  [ -n "$window" ] && break
  sleep 0.2
done
[ -n "$window" ] || { echo 'no window came up'; cat "$work/log"; exit 1; }
sleep 2
xdotool getwindowgeometry --shell "$window" >"$work/geometry"
grep -q '^WIDTH=1280$' "$work/geometry" && grep -q '^HEIGHT=800$' "$work/geometry" ||
  { echo 'the window does not fill the screen:'; cat "$work/geometry"; exit 1; }

shots=0
shot() {
  [ -n "${WINDOW_SHOTS:-}" ] || return 0
  mkdir -p "$WINDOW_SHOTS"
  shots=$((shots + 1))
  import -window root "$WINDOW_SHOTS/$(printf '%02d' "$shots")-$1.png"
}
drag() {
  xdotool mousemove "$1" "$2"; sleep 0.2
  xdotool mousedown 1; sleep 0.2
  for k in 1 2 3 4 5 6 7 8; do
    xdotool mousemove $(($1 + ($3 - $1) * k / 8)) $(($2 + ($4 - $2) * k / 8)); sleep 0.08
  done
  sleep 0.3; shot dragging
  xdotool mouseup 1
}
shot opened
while read -r what a b c d; do
  case $what in
    click) xdotool mousemove "$a" "$b"; sleep 0.2; xdotool click 1 ;;
    drag) drag "$a" "$b" "$c" "$d" ;;
    key) xdotool key --clearmodifiers "$a" ;;
    type) xdotool type --delay 40 "$a" ;;
    *) echo "unknown move: $what"; exit 1 ;;
  esac
  # Longer than a double click.
  sleep 0.5
  case $what in click | drag) shot "$what" ;; esac
done <"$work/moves"
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
