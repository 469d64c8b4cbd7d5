# Functions of the real-window runs, to be sourced: a display with a window manager, the program in it, and the moves of
# a hand. WINDOW_DISPLAY sets the display (:99), WINDOW_SHOTS a folder for screenshots. `$work` is a folder of the run.
display=${WINDOW_DISPLAY:-:99}
work=$(mktemp -d)
pids=()
shots=0

finish() {
  # Newest first, each by its own id.
  for ((i = ${#pids[@]} - 1; i >= 0; i--)); do kill "${pids[i]}" 2>/dev/null || true; done
  wait 2>/dev/null || true
  rm -rf "$work"
}
trap finish EXIT

# The moves of the editor test $1, into $work/moves.
moves_of() {
  LONGSTOW_WINDOW_MOVES="$work/moves" cargo test --locked --quiet --test editor "$1"
  [ -s "$work/moves" ] || { echo "$1 noted no moves"; exit 1; }
}

start_display() {
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
}

# The program with these arguments, until its window, whose title holds $1, fills the screen.
start_program() {
  local title=$1 window=
  shift
  # A home of its own, so that nothing of this machine's user shows in the window.
  env -u WAYLAND_DISPLAY HOME="$work" XDG_CONFIG_HOME="$work" XDG_DATA_HOME="$work" XDG_STATE_HOME="$work" \
    XDG_CACHE_HOME="$work" WINIT_X11_SCALE_FACTOR=1 "$@" >"$work/log" 2>&1 & pids+=($!)
  for _ in $(seq 150); do
    window=$(xdotool search --onlyvisible --name "$title" 2>/dev/null | tail -1) || true
    [ -n "$window" ] && break
    sleep 0.2
  done
  [ -n "$window" ] || { echo 'no window came up'; cat "$work/log"; exit 1; }
  sleep 2
  xdotool getwindowgeometry --shell "$window" >"$work/geometry"
  grep -q '^WIDTH=1280$' "$work/geometry" && grep -q '^HEIGHT=800$' "$work/geometry" ||
    { echo 'the window does not fill the screen:'; cat "$work/geometry"; exit 1; }
}

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

# Makes the moves in $work/moves.
replay() {
  shot opened
  while read -r what a b c d; do
    case $what in
      click) xdotool mousemove "$a" "$b"; sleep 0.2; xdotool click 1 ;;
      drag) drag "$a" "$b" "$c" "$d" ;;
      key) xdotool key --clearmodifiers "$a" ;;
      type) xdotool type --delay 40 "$a${b:+ $b}" ;;
      *) echo "unknown move: $what"; exit 1 ;;
    esac
    # Longer than a double click.
    sleep 0.5
    case $what in click | drag) shot "$what" ;; esac
  done <"$work/moves"
}
