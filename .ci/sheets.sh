#!/usr/bin/env bash
# The printed sheets of all samples, looked at by readers that are not ours: qpdf, poppler, an XML parser.
# Needs qpdf, poppler-utils and python3. Usage: .ci/sheets.sh PROGRAM [FOLDER FOR PICTURES]
set -euo pipefail
longstow=$(realpath "$1")
root=$(cd "$(dirname "$0")/.." && pwd)
work=${2:-$(mktemp -d)}
mkdir -p "$work"
fail() { echo "sheets: $*" >&2; exit 1; }
for tool in qpdf pdfinfo pdffonts pdftotext pdftoppm python3; do
  command -v "$tool" >/dev/null || fail "$tool is missing; apt-get install qpdf poppler-utils python3"
done
for plan in "$root"/sample-loads/*.longstow; do
  name=$(basename "$plan" .longstow)
  for paper in a4 letter; do
    pdf="$work/$name-$paper.pdf"
    code=0
    said=$("$longstow" sheet "$plan" -o "$pdf" --replace --paper "$paper" --state 1 --made 2026-03-09 2>&1) || code=$?
    if [ "$code" = 2 ] && [[ $said == *"no state 1"* ]]; then
      code=0
      said=$("$longstow" sheet "$plan" -o "$pdf" --replace --paper "$paper" --made 2026-03-09) || code=$?
    fi
    [ "$code" != 2 ] || fail "$plan: $said"
    qpdf --check "$pdf" >"$work/qpdf.txt" 2>&1 || fail "$pdf: qpdf says $(cat "$work/qpdf.txt")"
    pages=$(pdfinfo "$pdf" | awk '/^Pages:/ { print $2 }')
    [[ $said == *"$pages pages of "* ]] || fail "$pdf: $pages pages, but the program said: $said"
    pdffonts "$pdf" | tail -n +3 >"$work/fonts.txt"
    [ -s "$work/fonts.txt" ] || fail "$pdf: no fonts"
    # The columns before the object number: emb sub uni.
    if awk '{ if ($(NF-4) != "yes" || $(NF-3) != "yes" || $(NF-2) != "yes") exit 1 }' "$work/fonts.txt"; then :; else
      fail "$pdf: a font is not embedded as a subset: $(cat "$work/fonts.txt")"
    fi
    pdftotext -layout "$pdf" "$work/$name-$paper.txt"
    rm -f "$work/$name-$paper"-*.png "$work/$name-$paper"-*.pgm
    pdftoppm -gray -r 40 "$pdf" "$work/$name-$paper"
    "$longstow" figures "$plan" --json >"$work/$name.json"
    python3 "$root/.ci/sheets.py" "$plan" "$work/$name.json" "$work/$name-$paper.txt" \
      "$work/$name-$paper" "$pages" || fail "$pdf: see above"
  done
  rack=$(sed -n 's/.*(mark: "\([^"]*\)", type: "[^"]*[Ff]lat.*/\1/p' "$plan" | head -1)
  for of in train-side deck-plan "tier 1" ${rack:+"$rack rack 1"}; do
    svg="$work/$name.svg"
    "$longstow" drawing "$plan" -o "$svg" --replace --of "$of" >/dev/null || fail "$plan: no drawing of $of"
    python3 -c 'import sys, xml.dom.minidom as x; d = x.parse(sys.argv[1]); assert d.documentElement.tagName == "svg" and len(d.getElementsByTagName("text")) > 1' \
      "$svg" || fail "$plan: the SVG of $of cannot be read"
  done
  echo "$name: sheets and drawings are sound"
done
