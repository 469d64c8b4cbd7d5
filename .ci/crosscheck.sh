#!/usr/bin/env bash
# Recomputes the recorded cross-check cases with the live library from PyPI and compares them.
set -euo pipefail
venv=$(mktemp -d)
trap 'rm -rf "$venv"' EXIT
python3 -m venv "$venv"
"$venv/bin/pip" install --quiet --disable-pip-version-check -r tests/crosscheck/requirements.txt
"$venv/bin/python" tests/crosscheck/make_cases.py --verify
