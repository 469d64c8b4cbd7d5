#!/usr/bin/env bash
# Without a display, and with one that fails, the program says so in a line and prints the check instead.
set -euo pipefail
longstow=$1
try() {
  local plan=$1 want=$2 got=0
  shift 2
  env -u DISPLAY -u WAYLAND_DISPLAY "$@" timeout 60 "$longstow" "$plan" >out.txt 2>err.txt || got=$?
  "$longstow" check "$plan" >check.txt || true
  [ "$got" = "$want" ] || { echo "exit code $got, expected $want"; cat err.txt; exit 1; }
  cmp out.txt check.txt
  [ "$(wc -l <err.txt)" = 1 ] || { echo 'expected one line on standard error:'; cat err.txt; exit 1; }
}
here=$PWD
longstow=$(realpath "$longstow")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
a=$(ls "$here"/sample-loads/a-*.longstow) f=$(ls "$here"/sample-loads/f-*.longstow)
cd "$work"
try "$a" 0 NOTHING=1
try "$f" 1 NOTHING=1
try "$a" 0 DISPLAY=:4711
try "$a" 0 WAYLAND_DISPLAY=no-such-socket
echo 'the check is printed where no window opens'
