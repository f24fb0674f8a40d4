#!/usr/bin/env python3
"""Draws the pictures of doc/climate.md. Run by hand:

    go test ./climate -run Calibration -study study.csv
    python tools/climate/picture.py study.csv stations.txt

study.csv are the figures of the calibration test, stations.txt the output of make_table.py.
"""
import csv
import re
import sys
from pathlib import Path

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import numpy as np

DOC = Path(__file__).resolve().parents[2] / "doc"
INK, FILL, MARK = "#1b2a3a", "#c9d3dc", "#b03a2e"
plt.rcParams.update({"font.size": 8, "axes.spines.top": False, "axes.spines.right": False, "axes.edgecolor": INK})


def calibration(path):
    rows = list(csv.DictReader(open(path)))
    chosen = ["lowest 3 days", "lowest 7 days", "days to the floor, 2 days' store, 90 % load"]
    titles = ["least light of 3 days in a row [kWh/m²]", "least light of 7 days in a row [kWh/m²]",
              "days until a store of 2 days runs out\n(load 90 % of the month's mean light)"]
    fig, axes = plt.subplots(1, 3, figsize=(9, 4.4))
    for ax, question, title in zip(axes, chosen, titles):
        part = [r for r in rows if r["question"] == question]
        v, lo, hi = (np.array([float(r[c]) for r in part]) for c in ("value", "low", "high"))
        real = np.array([r["real"] == "true" for r in part])
        unit = 1000 if "lowest" in question else 1
        order = np.argsort((lo + hi) / 2 + 1e-6 * v)
        y = np.arange(len(part))
        ax.hlines(y, lo[order] / unit, hi[order] / unit, color=FILL, lw=1.6)
        out = (v < lo) | (v > hi)
        for mask, colour, marker, label in ((~out & ~real, INK, ".", "typical month, inside"), (out & ~real, MARK, "x", "typical month, outside"),
                                            (~out & real, INK, "D", "real month (2017), inside"), (out & real, MARK, "D", "real month (2017), outside")):
            m = mask[order]
            ax.plot(v[order][m] / unit, y[m], marker, color=colour, ms=3, ls="", label=label, mfc="none" if marker == "D" else colour)
        ax.set_title("%s\n%.0f %% of %d site-months inside" % (title, 100 * (~out).mean(), len(part)), fontsize=8)
        ax.set_yticks([])
    axes[0].set_ylabel("site-months of 11 public weather files\n(grey: nine in ten of 200 members)")
    axes[0].legend(fontsize=6.5, frameon=False, loc="lower right")
    fig.tight_layout()
    fig.savefig(DOC / "climate-calibration.png", dpi=110)


def stations(path):
    groups, rows = [], []
    for line in open(path):
        m = re.match(r"\s+(.{52}) +(-?[\d.]+) +(-?[\d.]+) year +([+-][\d.]+)\s+months (.*)", line)
        if m:
            rows.append((m[1].strip(), float(m[4]), [float(x) for x in m[5].split()]))
    count = int(re.search(r"stations, with regional.* n (\d+)", open(path).read())[1])
    fit, held = rows[:count], rows[count:]
    fig, axes = plt.subplots(2, 1, figsize=(9, 4.2), sharex=True, gridspec_kw={"height_ratios": [1, 1]})
    for ax, part, title in ((axes[0], fit, "stations of the regional correction (30-year means and typical months), each with the correction made without it"),
                            (axes[1], held, "weather files the table never saw, single typical months; Antananarivo and Pittsburgh lie far off")):
        for name, year, months in part:
            ax.plot(range(1, 13), months, color=INK, lw=0.6, alpha=0.6)
        ax.axhspan(-15, 15, color=FILL, alpha=0.5, lw=0)
        ax.axhline(0, color=INK, lw=0.8)
        ax.set_ylim(-45, 60)
        ax.set_title(title, fontsize=8)
        ax.set_ylabel("table over file [%]")
    axes[1].set_xlabel("month")
    axes[1].set_xticks(range(1, 13))
    fig.tight_layout()
    fig.savefig(DOC / "climate-stations.png", dpi=90)


calibration(sys.argv[1])
if len(sys.argv) > 2:
    stations(sys.argv[2])
