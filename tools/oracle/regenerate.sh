#!/usr/bin/env bash
# Makes anew, with the general reference library pvlib from PyPI and the circuit simulator ngspice from Debian, what of the independent answers
# can be made with them, compares it with the shipped packages, and times pvlib and ours side by side. SEED draws other places, states and
# networks. Needs Python 3 with venv, and ngspice for the networks; nobody needs them to build or to test.
set -euo pipefail
cd "$(dirname "$0")/../.."
venv=.cache/oracle-python
if [ ! -x "$venv/bin/python" ]; then
  python3 -m venv "$venv"
  "$venv/bin/pip" install --quiet "pvlib==0.15.*" numpy scipy pandas
fi
out=.cache/oracle
rm -rf "$out" && mkdir -p "$out"
"$venv/bin/python" tools/oracle/regenerate.py "$out" "${SEED:-1}"
if command -v ngspice >/dev/null; then
  "$venv/bin/python" tools/oracle/circuits.py "$out/circuits" "${SEED:-1}" internal/oracle/testdata/circuits
else
  echo "NGSPICE ABSENT: the networks are not solved anew (apt install ngspice)"
fi
go run ./tools/oracle "$out"
echo "the same year, timed: pvlib first, then ours"
"$venv/bin/python" tools/oracle/time_year.py
go test -run '^$' -bench 'YearToDC' -benchtime 10x ./pv
