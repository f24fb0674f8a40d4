#!/usr/bin/env bash
# Makes anew, with the general reference library pvlib from PyPI, what of the independent answers can be made with it, compares it with the
# shipped packages, and times both side by side. Needs Python 3 with venv; nobody needs it to build or to test.
set -euo pipefail
cd "$(dirname "$0")/../.."
venv=.cache/oracle-python
if [ ! -x "$venv/bin/python" ]; then
  python3 -m venv "$venv"
  "$venv/bin/pip" install --quiet "pvlib==0.15.*" numpy scipy pandas
fi
out=.cache/oracle
rm -rf "$out" && mkdir -p "$out"
"$venv/bin/python" tools/oracle/regenerate.py "$out"
go run ./tools/oracle "$out"
echo "the same year, timed: pvlib first, then ours"
"$venv/bin/python" tools/oracle/time_year.py
go test -run '^$' -bench 'YearToDC' -benchtime 10x ./pv
