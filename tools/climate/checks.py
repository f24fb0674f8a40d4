#!/usr/bin/env python3
"""Figures that comments of package climate rest on. Run by hand:

    python tools/climate/checks.py WEATHER_FILE.epw ...

Needs numpy, h5py, netCDF4, itur, pvcz and pvlib. Prints how far the guess of turbidity lies from the published monthly maps that pvlib
carries, and how the daily range of temperature scatters in the weather files given.
"""
import sys
from pathlib import Path

import h5py
import numpy as np
import pvcz
import pvlib

import make_table as mt


def turbidity():
    maps = h5py.File(Path(pvlib.__file__).parent / "data" / "LinkeTurbidities.h5")["LinkeTurbidity"]
    temp, elev = mt.load_temperature(), mt.load_elevation()
    points = pvcz.get_pvcz_data()[["lat", "lon"]].to_numpy(float)[::97]
    off, america = [], []
    for la, lo in points:
        if not -50 < la < 62:
            continue
        published = maps[int((90 - la) * 12), int((lo + 180) * 12), :] / 20.0
        i, j = round((la + 90) / 0.75), round((lo + 180) / 0.75)
        t, z = temp[:, i, j], elev[i, j]
        guess = np.clip(2.8 + 0.035 * t + 0.0004 * np.maximum(t, 0) ** 2 - 0.1e-3 * z, 1.8, 5.5)
        off.append(guess - published)
        america.append(24 < la < 56 and -130 < lo < -60)
    off, america = np.array(off), np.array(america)
    for name, part in (("North America", off[america]), ("all land", off)):
        print("turbidity, %s: bias %+.2f, standard deviation %.2f, %d points" % (name, part.mean(), part.std(), len(part)))


def ranges(paths):
    out = []
    for path in paths:
        lines = Path(path).read_text(encoding="latin1").splitlines()
        rows = [x.split(",") for x in lines[8:] if x.count(",") > 20]
        if len(rows) != 8760:
            continue
        la = float(lines[0].split(",")[6])
        month = np.array([int(r[1]) for r in rows])[::24]
        t = np.array([float(r[6]) for r in rows]).reshape(365, 24)
        light = np.array([float(r[13]) for r in rows]).reshape(365, 24).sum(1) / 1000
        clear = light / np.repeat(mt.h0_months(la), mt.DAYS)
        swing = t.max(1) - t.min(1)
        of = [month == m for m in range(1, 13)]
        out.append((np.mean([swing[s].std() / swing[s].mean() for s in of]), np.mean([np.corrcoef(swing[s], clear[s])[0, 1] for s in of]),
                    np.bincount(t.argmax(1), minlength=24).argmax()))
    if out:
        a = np.array(out)
        print("daily range, %d files: scatter %.2f of its mean (%.2f to %.2f); goes with clearness %.2f; warmest hour %d to %d" %
              (len(a), a[:, 0].mean(), a[:, 0].min(), a[:, 0].max(), a[:, 1].mean(), a[:, 2].min(), a[:, 2].max()))


turbidity()
ranges(sys.argv[1:])
