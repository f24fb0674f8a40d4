#!/usr/bin/env python3
"""Makes climate/table.bin, the climatology inside the program, and checks it on the way.

Run by hand, never by the build or the tests:

    python tools/climate/make_table.py REFERENCE_DIR WEATHER_DIR [EPW ...]

It needs the Python packages numpy, netCDF4, itur, pvcz, gsee-climate-data (PyPI) and the file etopo5.cdf of Debian's
ferret-datasets. REFERENCE_DIR holds published_monthly_ghi.csv, WEATHER_DIR holds manifest.csv and the weather files it names;
they are the stations of the regional correction. EPW files named after them are used for checking only.

The table is cut into bands of 12 degrees of latitude, each deflated by itself, so that a look-up inflates one band only.
The layout is told in climate/table.go, which reads it.
"""
import csv
import hashlib
import importlib.metadata as meta
import json
import struct
import sys
import zlib
from pathlib import Path

import netCDF4
import numpy as np

ETOPO = "/usr/share/ferret-vis/data/etopo5.cdf"
OUT = Path(__file__).resolve().parents[2] / "climate" / "table.bin"
SOLAR_CONSTANT = 1.3611  # kW/m2, [GUEYMARD-2018]
DAYS = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
BAND = 12                # degrees of latitude in a band
SOUTH, NORTH = -60, 72   # the bands cover this

# The regional correction: a stationary Gaussian field of the logarithm of (published / table) per calendar month.
CORR_KM, CORR_SD = 1000.0, 0.07
NOISE_MEAN, NOISE_TYPICAL = 0.03, 0.06  # of a published long-term mean; of a month taken from one typical year


def package_file(package, *parts):
    return Path(str(importlib_files(package))).joinpath(*parts)


def importlib_files(package):
    from importlib import resources
    return resources.files(package)


# ---- extraterrestrial irradiation -------------------------------------------------------------------------------------------
def h0_months(lat):
    """Mean daily extraterrestrial irradiation on the horizontal [kWh/m2/day] of the twelve months. [SPENCER]"""
    out, day = [], 0
    for n in DAYS:
        g = 2 * np.pi * (np.arange(day, day + n) + 0.5) / 365
        decl = (0.006918 - 0.399912 * np.cos(g) + 0.070257 * np.sin(g) - 0.006758 * np.cos(2 * g) + 0.000907 * np.sin(2 * g)
                - 0.002697 * np.cos(3 * g) + 0.00148 * np.sin(3 * g))
        e0 = (1.00011 + 0.034221 * np.cos(g) + 0.00128 * np.sin(g) + 0.000719 * np.cos(2 * g) + 0.000077 * np.sin(2 * g))
        phi = np.deg2rad(lat)
        ws = np.arccos(np.clip(-np.tan(phi) * np.tan(decl), -1, 1))
        h = 24 / np.pi * SOLAR_CONSTANT * e0 * (np.cos(phi) * np.cos(decl) * np.sin(ws) + ws * np.sin(phi) * np.sin(decl))
        out.append(h.mean())
        day += n
    return np.array(out)


# ---- the sources ------------------------------------------------------------------------------------------------------------
def load_clearness():
    """K[lat, lon, month] on the 3 degree grid from the means of the package's curves, NaN where there is no curve."""
    z = np.load(package_file("gsee_climate_data", "data", "merra2_rad3x3_2011-2015_pdfs_land_prox.npz"))
    x, p, lat, lon = z["xk"].astype(float), z["pk"].astype(float), z["lat"], z["lon"]
    k = np.full(x.shape[:3], np.nan)
    for i, la in enumerate(lat):
        h0 = h0_months(la)
        for m in range(12):
            top = 0.82 * h0[m] * 1000 / 24                # no day is brighter: the curves are kernel densities with long tails
            q = np.nan_to_num(p[i, :, m, :])
            v = np.clip(np.nan_to_num(x[i, :, m, :]), 0, top)
            with np.errstate(invalid="ignore"):
                k[i, :, m] = (v * q).sum(1) / q.sum(1) * 0.024 / h0[m] if h0[m] > 0.15 else np.nan
    valid = np.isfinite(k).sum(2) >= 6
    for i, j in np.argwhere(valid):                       # polar night: the nearest month with a sun
        good = np.flatnonzero(np.isfinite(k[i, j]))
        for m in np.flatnonzero(~np.isfinite(k[i, j])):
            gap = np.minimum((good - m) % 12, (m - good) % 12)
            k[i, j, m] = k[i, j, good[gap.argmin()]]
    k[~valid] = np.nan
    return lat, lon, k


def load_extremes():
    """Annual horizontal irradiation and record low and high on the 0.5 degree grid (rows from -59.75 north), NaN at sea."""
    import pvcz
    df = pvcz.get_pvcz_data()
    a = df[["lat", "lon", "GHI_mean", "T_ambient_min", "T_ambient_max"]].to_numpy(float)
    rows, cols = int((NORTH + 12 - SOUTH) * 2), 720
    r = np.floor((a[:, 0] - SOUTH) * 2).astype(int)
    c = np.floor((a[:, 1] + 180) * 2).astype(int)
    total, count = np.zeros((rows, cols)), np.zeros((rows, cols))
    low, high = np.full((rows, cols), np.inf), np.full((rows, cols), -np.inf)
    for i, j, g, tn, tx in zip(r, c, a[:, 2], a[:, 3], a[:, 4]):
        if 0 <= i < rows and g > 0 and tn != 0:
            total[i, j] += g
            count[i, j] += 1
            low[i, j] = min(low[i, j], tn)
            high[i, j] = max(high[i, j], tx)
    none = count == 0
    low[none] = high[none] = np.nan
    with np.errstate(invalid="ignore"):
        return np.where(none, np.nan, total / count), low, high


def load_temperature():
    """Monthly mean 2 m temperature [degC], [month, lat, lon] on the 0.75 degree grid from 90 S, 180 W."""
    return np.array([np.load(package_file("itur", "data", "1510", f"v1_t_month{m:02d}.npz"))["arr_0"] for m in range(1, 13)]) - 273.15


def load_elevation():
    """Mean elevation [m] of land and sea (sea as zero) around each node of the 0.75 degree grid."""
    d = netCDF4.Dataset(ETOPO)
    z = np.maximum(np.array(d.variables["ROSE"][:], float), 0)[:, :]
    y = np.array(d.variables["ETOPO05_Y"][:])
    out = np.zeros((241, 481))
    for i in range(241):
        la = -90 + 0.75 * i
        band = z[np.abs(y - la) <= 0.376].mean(0)         # columns run from 0 to 360 east, 12 to a degree
        for j in range(481):
            at = int(round((-180 + 0.75 * j) % 360 * 12))
            out[i, j] = band[np.arange(at - 4, at + 5) % 4320].mean()
    return out


# ---- interpolation, as climate/table.go does it ----------------------------------------------------------------------------
def bilinear(field, lat, lon, lat0, lon0, step, wrap, reach=3):
    """Bilinear over the valid ones of the four cells around; else the nearest valid one within reach cells; else NaN."""
    f = field if field.ndim == 3 else field[:, :, None]
    y, x = (lat - lat0) / step, (lon - lon0) / step
    i0, j0 = int(np.floor(y)), int(np.floor(x))
    s, w = 0.0, 0.0
    for i in (i0, i0 + 1):
        for j in (j0, j0 + 1):
            ii = min(max(i, 0), f.shape[0] - 1)
            v = f[ii, j % wrap]
            ww = (1 - abs(y - i)) * (1 - abs(x - j))
            if ww > 0 and np.isfinite(v).all():
                s, w = s + ww * v, w + ww
    if w > 1e-9:
        return s / w
    best, at = None, None
    for i in range(i0 - reach, i0 + reach + 2):
        for j in range(j0 - reach, j0 + reach + 2):
            if 0 <= i < f.shape[0] and np.isfinite(f[i, j % wrap]).all():
                dist = (y - i) ** 2 + ((x - j) * np.cos(np.deg2rad(lat))) ** 2
                if best is None or dist < best:
                    best, at = dist, f[i, j % wrap]
    return at if at is not None else np.full(f.shape[2], np.nan)


# ---- the stations of the correction and of the checks ------------------------------------------------------------------------
def read_epw(path):
    lines = Path(path).read_text(encoding="latin1").splitlines()
    head = lines[0].split(",")
    rows = [x.split(",") for x in lines[8:] if x.count(",") > 20]
    month = np.array([int(r[1]) for r in rows])
    ghi, temp = np.array([float(r[13]) for r in rows]), np.array([float(r[6]) for r in rows])
    daily = np.array([ghi[month == m].sum() / 1000 / ((month == m).sum() / 24) for m in range(1, 13)])
    return dict(name=head[1], lat=float(head[6]), lon=float(head[7]), elev=float(head[9]), ghi=daily,
                temp=np.array([temp[month == m].mean() for m in range(1, 13)]), tmin=temp.min(), tmax=temp.max())


def stations(reference, weather, extra):
    """Lists of places: those the correction rests on, and those used only to check."""
    fit = []
    for r in csv.DictReader(open(Path(reference) / "published_monthly_ghi.csv")):
        months = [r[m] for m in "jan feb mar apr may jun jul aug sep oct nov dec".split()]
        if not r["lon"] or "" in months:
            continue
        fit.append(dict(name=r["site"], lat=float(r["lat"]), lon=float(r["lon"]), ghi=np.array(months, float),
                        noise=NOISE_TYPICAL if "typical" in r["period"] else NOISE_MEAN))
    for r in csv.DictReader(open(Path(weather) / "manifest.csv")):
        s = dict(name=r["station"], lat=float(r["lat"]), lon=float(r["lon"]), elev=float(r["elev_m"]), noise=NOISE_TYPICAL,
                 ghi=np.array([float(r[f"ghi_{m:02d}"]) for m in range(1, 13)]), tmin=float(r["t_min"]), tmax=float(r["t_max"]))
        if r["file"].endswith(".epw"):
            s["temp"] = read_epw(Path(weather) / r["file"])["temp"]
        fit.append(s)
    return fit, [read_epw(p) for p in extra]


def distance_km(a, b):
    la, lb, dl = np.deg2rad(a[0]), np.deg2rad(b[0]), np.deg2rad(a[1] - b[1])
    return 6371 * np.arccos(np.clip(np.sin(la) * np.sin(lb) + np.cos(la) * np.cos(lb) * np.cos(dl), -1, 1))


class Correction:
    """The regional correction of K: simple kriging of the stations' monthly log ratios, falling back to none far from all."""

    def __init__(self, at, ratio, noise):
        self.at, self.ratio = at, ratio
        gram = np.array([[CORR_SD ** 2 * np.exp(-distance_km(a, b) / CORR_KM) for b in at] for a in at])
        self.gram = gram + np.diag(noise ** 2)
        self.weights = np.linalg.solve(self.gram, ratio)

    def __call__(self, lat, lon):
        k = np.array([CORR_SD ** 2 * np.exp(-distance_km((lat, lon), b) / CORR_KM) for b in self.at])
        return k @ self.weights

    def share(self, lat, lon):
        """Share of the field's variance that the stations near by take away, 0 to 1."""
        k = np.array([CORR_SD ** 2 * np.exp(-distance_km((lat, lon), b) / CORR_KM) for b in self.at])
        return k @ np.linalg.solve(self.gram, k) / CORR_SD ** 2


# ---- packing ----------------------------------------------------------------------------------------------------------------
def plane(a, scale, offset):
    """A field as bytes: 0 for nothing, else 1 + round((value - offset) / scale), clipped."""
    q = np.clip(np.round((np.nan_to_num(a, nan=offset) - offset) / scale), 0, 254) + 1
    return np.where(np.isfinite(a), q, 0).astype(np.uint8)


def delta(q):
    """Differences along longitude, modulo 256, the first column against zero."""
    d = q.astype(np.int32)
    d[..., 1:] = d[..., 1:] - d[..., :-1].copy()
    return (d % 256).astype(np.uint8).tobytes()


def quarter_kelvin(t):
    """Temperatures as 16-bit steps of 0.25 K from -100 degC, split in high and low bytes of the differences along longitude."""
    q = np.round((t + 100) * 4).astype(np.int32)
    d = q.copy()
    d[..., 1:] = q[..., 1:] - q[..., :-1]
    d %= 65536
    return (d >> 8).astype(np.uint8).tobytes() + (d & 255).astype(np.uint8).tobytes()


def main():
    reference, weather, extra = sys.argv[1], sys.argv[2], sys.argv[3:]
    versions = {p: meta.version(p) for p in ("gsee-climate-data", "itur", "pvcz", "netCDF4", "numpy")}
    print("packages:", versions)
    lat3, lon3, k3 = load_clearness()
    annual, low, high = load_extremes()
    temp, elev = load_temperature(), load_elevation()

    # The level of the year from the 0.5 degree source, the shape of the year from the 3 degree source.
    rows = annual.shape[0]
    scale = np.full(annual.shape, np.nan)
    merra_bias = []
    for i in range(rows):
        la = SOUTH + 0.25 + 0.5 * i
        if la > 72:
            break
        h0 = h0_months(la)
        for j in np.flatnonzero(np.isfinite(annual[i])):
            k = bilinear(k3, la, -179.75 + 0.5 * j, lat3[0], lon3[0], 3.0, 120)
            if np.isfinite(k).all():
                year = (k * h0 * DAYS).sum() / 365
                scale[i, j] = np.clip(annual[i, j] / year, 0.60, 1.20)
                merra_bias.append(year / annual[i, j])
    print("3 degree source over 0.5 degree source, annual, land cells: median %.3f, 10..90 %% %.3f..%.3f" %
          tuple(np.percentile(merra_bias, (50, 10, 90))))
    default = 1 / np.median(merra_bias)

    def clearness(lat, lon, k, corr=None):
        v = bilinear(k, lat, lon, lat3[0], lon3[0], 3.0, 120)
        s = bilinear(scale, lat, lon, SOUTH + 0.25, -179.75, 0.5, 720)[0]
        v = v * (s if np.isfinite(s) else default)
        return v * np.exp(corr(lat, lon)) if corr else v

    fit, held = stations(reference, weather, extra)
    fit = [s for s in fit if np.isfinite(clearness(s["lat"], s["lon"], k3)).all()]
    at = [(s["lat"], s["lon"]) for s in fit]
    noise = np.array([s["noise"] for s in fit])
    ratio = np.array([np.log(s["ghi"] / (clearness(s["lat"], s["lon"], k3) * h0_months(s["lat"]))) for s in fit])
    corr = Correction(at, ratio, noise)

    def report(title, places, fn):
        e = np.array([fn(s) * h0_months(s["lat"]) / s["ghi"] - 1 for s in places]) * 100
        y = np.array([((fn(s) * h0_months(s["lat"]) * DAYS).sum() / (s["ghi"] * DAYS).sum() - 1) for s in places]) * 100
        print("%-46s n %2d  year: mean %+.1f worst %.1f sd %.1f   months: bias %+.1f MAE %.1f within 15 %%: %.1f %%" %
              (title, len(places), y.mean(), abs(y).max(), y.std(), e.mean(), abs(e).mean(), 100 * (abs(e) <= 15).mean()))
        return e, y

    raw = lambda s: bilinear(k3, s["lat"], s["lon"], lat3[0], lon3[0], 3.0, 120)
    level = lambda s: clearness(s["lat"], s["lon"], k3)
    full = lambda s: clearness(s["lat"], s["lon"], k3, corr)

    def left_out(s):                                       # without this station and its namesakes within 60 km
        keep = [i for i, a in enumerate(at) if distance_km(a, (s["lat"], s["lon"])) > 60]
        return clearness(s["lat"], s["lon"], k3, Correction([at[i] for i in keep], ratio[keep], noise[keep]))

    report("stations, 3 degree source as it is", fit, raw)
    report("stations, level from 0.5 degree source", fit, level)
    report("stations, with regional correction", fit, full)
    el, yl = report("stations, correction made without them", fit, left_out)
    if held:
        report("held-out files, 3 degree source as it is", held, raw)
        report("held-out files, level from 0.5 degree source", held, level)
        e2, y2 = report("held-out files, with regional correction", held, full)
    print("each station with the correction made without it, then the held-out files:")
    for s, a, b in list(zip(fit, el, yl)) + (list(zip(held, e2, y2)) if held else []):
        print("  %-52.52s %6.1f %7.1f year %+5.1f  months %s" % (s["name"], s["lat"], s["lon"], b, " ".join("%+4.0f" % v for v in a)))

    corrected = k3.copy()
    share = np.full(k3.shape[:2], np.nan)
    for i, la in enumerate(lat3):
        for j, lo in enumerate(lon3):
            if np.isfinite(k3[i, j]).all():
                share[i, j] = corr.share(la, lo)
                corrected[i, j] = np.clip(k3[i, j] * np.exp(corr(la, lo)), 0.05, 0.82)

    # ---- write
    header = {
        "format": "campwright climatology 1",
        "attribution": "Solar: derived from NASA MERRA-2 (Gelaro et al. 2017, J. Climate 30, 5419-5454; GMAO/GES DISC) via "
                       "gsee-climate-data, BSD-3 (c) its authors; Pfenninger & Staffell 2016, Energy 114, 1251-1265. Level of the year "
                       "and extremes: NASA GLDAS-2 Noah via pvcz, MIT (c) 2019 Todd Karin (Karin et al. 2019, IEEE PVSC). Temperature: "
                       "Recommendation ITU-R P.1510-1 monthly maps, derived from ECMWF ERA-Interim 1979-2014, via ITU-Rpy, MIT (c) 2016 "
                       "Inigo del Portillo. Elevation: NOAA ETOPO5.",
        "correction": "monthly clearness of the 3 degree source times (annual irradiation of the 0.5 degree source / its own), then "
                      "drawn towards published monthly means of %d rows of stations by a field of sd %.2f and length %.0f km" %
                      (len(fit), CORR_SD, CORR_KM),
        "packages": versions,
        "bands": {"south": SOUTH, "north": NORTH, "step": BAND},
        "default_scale": round(float(default), 4),
    }
    blocks = []
    for south in range(SOUTH, NORTH, BAND):
        i3 = [min(max(round((la - lat3[0]) / 3), 0), 43) for la in range(south - 3, south + BAND + 4, 3)]        # 7 rows
        i05 = [min(max(i, 0), rows - 1) for i in range((south - SOUTH) * 2 - 3, (south - SOUTH + BAND) * 2 + 3)]  # 30 rows
        i75 = range(int((south + 90) / 0.75), int((south + BAND + 90) / 0.75) + 1)                              # 17 rows
        k = np.moveaxis(corrected[i3], 2, 0)                                                                    # month, row, col
        raw_block = b"".join([
            delta(plane(k, 1 / 300, 0.0)),
            delta(plane(share[i3], 1 / 254, 0.0)),
            delta(plane(scale[i05], 0.0025, 0.595)),
            delta(plane(low[i05], 0.5, -80.0)),
            delta(plane(high[i05], 0.5, -40.0)),
            delta(np.clip(np.round(elev[list(i75)][:, :480] / 25), 0, 255)),
            quarter_kelvin(temp[:, list(i75)][:, :, :480]),
        ])
        z = zlib.compressobj(9, zlib.DEFLATED, -15)
        blocks.append(z.compress(raw_block) + z.flush())
    header["sha256"] = hashlib.sha256(b"".join(blocks)).hexdigest()
    header["lengths"] = [len(b) for b in blocks]
    text = json.dumps(header, indent=1, ensure_ascii=True).encode()
    OUT.write_bytes(b"CWCLIM1\n" + struct.pack("<I", len(text)) + text + b"".join(blocks))
    print("wrote %s, %d bytes, sha256 of the blocks %s" % (OUT.name, OUT.stat().st_size, header["sha256"]))

    # ---- temperature and extremes against files
    err = []
    for s in fit + held:
        if "temp" not in s:
            continue
        zc = bilinear(elev[:, :480], s["lat"], s["lon"], -90, -180, 0.75, 480)[0]
        t = np.array([bilinear(temp[m][:, :480], s["lat"], s["lon"], -90, -180, 0.75, 480)[0] for m in range(12)])
        d = t - 4.5 * (s["elev"] - zc) / 1000 - s["temp"]
        err.append(d)
        print("  temperature %-40.40s bias %+.1f RMSE %.1f K" % (s["name"], d.mean(), np.sqrt((d ** 2).mean())))
    err = np.array(err)
    print("monthly temperature, %d files: bias %+.2f, RMSE %.2f K" % (len(err), err.mean(), np.sqrt((err ** 2).mean())))


if __name__ == "__main__":
    main()
