#!/usr/bin/env bash
# Recomputes the recorded cross-check cases with the live libraries from PyPI and compares them.
set -euo pipefail
venv=$(mktemp -d)
trap 'rm -rf "$venv"' EXIT
python3 -m venv "$venv"
"$venv/bin/pip" install --quiet --disable-pip-version-check -r tests/crosscheck/requirements.txt
for cases in make_cases make_spring_cases make_curve_cases make_unloading_cases; do
  echo "$cases"
  "$venv/bin/python" "tests/crosscheck/$cases.py" --verify
done
