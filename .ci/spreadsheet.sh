#!/usr/bin/env bash
# Orders and tables through a real spreadsheet program, with its odd habits: nothing may change on the way.
# Needs the Debian package libreoffice-calc-nogui. Usage: .ci/spreadsheet.sh LONGSTOW
set -euo pipefail
cd "$(dirname "$0")/.."
longstow=$(realpath "${1:-target/release/longstow}")
samples=$(realpath sample-loads)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"

fail() { printf 'spreadsheet: %s\n' "$*" >&2; exit 1; }

# A spreadsheet program of its own for each language, since the language decides the decimal mark.
office() { # LANGUAGE ARGUMENTS...
  local profile="$work/profile-$1" language=$1
  shift
  if [ ! -d "$profile" ]; then
    mkdir -p "$profile/user"
    cat >"$profile/user/registrymodifications.xcu" <<XML
<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>$language</value></prop></item>
</oor:items>
XML
  fi
  soffice "-env:UserInstallation=file://$profile" --headless --norestore "$@" >office.log 2>&1 \
    || { cat office.log >&2; fail "the spreadsheet program failed: $*"; }
}

csv='Text - txt - csv (StarCalc)'
point=en-US comma=de-DE

# opened LANGUAGE SEPARATOR FILE KIND HOW: opens our table as a person would, and keeps it as the program's own file.
# Carefully: marks and sections are said to be words. Carelessly: whatever looks like a number or a date becomes one.
opened() {
  local code=1033 how='1/2/2/2,0,false,false'
  [ "$1" = "$comma" ] && code=1031
  [ "$5" = carelessly ] && how="1/1,$code,false,true"
  office "$1" --infilter="$csv:$2,34,76,1,$how" --convert-to "$4" "$3"
}

# takes PLAN TABLE: every row says what the plan has already.
takes() {
  "$longstow" order "$1" "$2" --dry-run >told.txt 2>&1 || { cat told.txt >&2; fail "$2 was not taken in"; }
  grep -q "rows: $(grep -c '(mark: .*, section: ' "$1") unchanged;" told.txt \
    || { cat told.txt >&2; fail "$2 came back changed"; }
}

# Marks and drops that a spreadsheet would gladly reckon with, or write in other letters.
plan="$work/odd.longstow"
sed -e 's/"N01 L"/"=1+1"/g; s/"N01 R"/"-3"/g; s/"N02 L"/"@SUM(A1)"/g; s/"N02 R"/"N02; \\"R\\", \u00e4"/g' \
    -e "s/\"N03 L\"/\"'q\"/g; s/\"N03 R\"/\"007\"/g; s/\"N04 L\"/\"1-2\"/g; s/\"N04 R\"/\"+49 1\"/g" \
    "$samples/c-two-sites.longstow" >"$plan"
"$longstow" check "$plan" >/dev/null || fail 'the plan with odd marks is not sound'

"$longstow" placements "$plan" --csv -o point.csv
"$longstow" placements "$plan" --csv --decimal comma -o comma.csv
takes "$plan" point.csv
takes "$plan" comma.csv

printf 'through its own files and back, %s\n' "$SECONDS s"
opened $point 44 point.csv ods carefully
opened $comma 59 comma.csv xlsx carefully
mkdir -p back
# separator, quote, letters (76 UTF-8, 1 Windows-1252, 65535 UTF-16), first line, columns, language, all quoted, numbers, as shown
back() { # LANGUAGE FILE OPTIONS NAME
  office "$1" --convert-to "csv:$csv:$3" --outdir back "$2"
  mv "back/${2%.*}.csv" "back/$4.csv"
  takes "${5:-$plan}" "back/$4.csv"
}
back $point point.ods '44,34,76,1,,0,false,true,true' comma-separated
back $point point.ods '9,34,65535,1,,0,false,true,true' tabs-in-utf-16
back $point point.ods '59,34,76,1,,0,true,true,true' all-quoted
back $comma comma.xlsx '59,34,1,1,,0,false,true,true' windows-1252
back $comma comma.xlsx '59,34,76,1,,0,false,true,true,false,false,0,false,false,true' utf-8-with-mark
back $comma comma.xlsx '44,34,76,1,,0,false,true,true' decimal-comma-between-commas

printf 'sections that a spreadsheet takes for numbers, %s\n' "$SECONDS s"
for language in $point $comma; do
  separator=44 decimal=point
  [ $language = $comma ] && separator=59 decimal=comma
  "$longstow" placements "$samples/c-two-sites.longstow" --csv --decimal $decimal -o "plain-$decimal.csv"
  opened $language $separator "plain-$decimal.csv" xlsx carelessly
  back $language "plain-$decimal.xlsx" "$separator,34,76,1,,0,false,true,true" "again-$decimal" "$samples/c-two-sites.longstow"
  tr -s '\n ' ' ' <told.txt | grep -q 'taken for 54E1, which spreadsheets take for a number' || fail 'no section became a number: test nothing'
done

printf 'numbers arrive as numbers, %s\n' "$SECONDS s"
"$longstow" figures "$plan" --csv vehicles --state 0 --decimal comma -o vehicles.csv
"$longstow" check "$plan" --csv --decimal comma -o findings.csv
for table in vehicles findings; do
  opened $comma 59 $table.csv fods carelessly
  lines=$(($(wc -l <$table.csv) - 1))
  floats=$(grep -o 'office:value-type="float"' $table.fods | wc -l)
  [ "$floats" -ge "$lines" ] || fail "of $table.csv only $floats cells are numbers"
  if grep -q 'table:formula=' $table.fods; then fail "a cell of $table.csv became a formula"; fi
done
gross=$("$longstow" figures "$plan" --json --state 0 | grep -m1 '"gross_kg"' | tr -dc '0-9.')
awk -v kg="$gross" 'BEGIN { printf "%.6f", kg / 1000 }' | sed 's/0*$//; s/\.$//' >gross.txt
grep -q "office:value=\"$(cat gross.txt)\"" vehicles.fods || fail "the gross mass $(cat gross.txt) t is not in the spreadsheet"

printf 'an order that was typed in a spreadsheet, %s\n' "$SECONDS s"
cat >typed.fods <<'XML'
<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body><office:spreadsheet><table:table table:name="Order">
<table:table-row><table:table-cell office:value-type="string"><text:p>Order of May</text:p></table:table-cell></table:table-row>
<table:table-row/>
<table:table-row><table:table-cell office:value-type="string"><text:p>String no.</text:p></table:table-cell><table:table-cell office:value-type="string"><text:p>Section</text:p></table:table-cell><table:table-cell office:value-type="string"><text:p>Length (m)</text:p></table:table-cell><table:table-cell office:value-type="string"><text:p>Remark</text:p></table:table-cell></table:table-row>
<table:table-row><table:table-cell office:value-type="float" office:value="7"/><table:table-cell office:value-type="string"><text:p>60E1</text:p></table:table-cell><table:table-cell office:value-type="float" office:value="1234.5"/><table:table-cell office:value-type="string"><text:p>two
lines; "quoted", a</text:p></table:table-cell></table:table-row>
<table:table-row><table:table-cell office:value-type="string"><text:p>8b</text:p></table:table-cell><table:table-cell office:value-type="string"><text:p>60E1</text:p></table:table-cell><table:table-cell table:formula="of:=[.C4]/10" office:value-type="float" office:value="123.45"/></table:table-row>
</table:table></office:spreadsheet></office:body></office:document>
XML
for language in $point $comma; do
  office $language --convert-to "csv:$csv:59,34,76,1,,0,false,true,true" typed.fods
  "$longstow" order "$plan" typed.csv -o "typed-$language.longstow" >told.txt || { cat told.txt >&2; fail "$language"; }
  grep -q 'mark: "7", section: "60E1", length_mm: 1234500' "typed-$language.longstow" || fail "1234.5 m in $language"
  grep -q 'mark: "8b", section: "60E1", length_mm: 123450' "typed-$language.longstow" || fail "123.45 m in $language"
done
cmp "typed-$point.longstow" "typed-$comma.longstow"

# The spreadsheet's own file is not a table, and is told as such.
if "$longstow" order "$plan" comma.xlsx >/dev/null 2>told.txt; then fail 'a packed file was taken in'; fi
grep -q "a spreadsheet's own file" told.txt || { cat told.txt >&2; fail 'a packed file was not told as such'; }
printf 'spreadsheet: all came back as it was, in %s s\n' "$SECONDS"
