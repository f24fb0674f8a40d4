"""Makes independent answers anew with pvlib: sun positions, light, cell temperatures and single-diode points at drawn places and states, in the
format that tools/oracle reads. The draws are seeded by the first argument after the folder, 1 when left out, so that other numbers than the
stored ones are tried."""
import json
import sys
from datetime import datetime, timedelta, timezone

import numpy as np
import pandas as pd
import pvlib
from pvlib import irradiance, pvsystem, singlediode, spa, temperature

folder, seed = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 1
rng = np.random.default_rng(seed)
G_SC = 1366.1
K_BOLTZMANN = 8.617333262e-5


def write(name, body):
    body = {"title": body.pop("title"), "generator": f"pvlib {pvlib.__version__}, seed {seed}", "units": {}, "suggested_tolerance": {}, **body}
    with open(f"{folder}/{name}", "w") as f:
        json.dump(body, f, indent=1)


def position(t, lat, lon, elev, press, temp, delta):
    """apparent zenith, true zenith, azimuth [deg] and equation of time [min] by the full algorithm."""
    stamp = np.array([t.timestamp()])
    az, zen = None, None
    app, zen, _, _, az, eot = spa.solar_position_numpy(stamp, lat, lon, elev, press, temp, delta, 0.5667, 1)
    dist = spa.earthsun_distance(stamp, delta, 1)
    return float(app[0]), float(zen[0]), float(az[0]), float(eot[0]), float(dist[0])


def crossing(begin, end, lat, lon, delta, rising):
    """instant in a civil day at which the airless elevation, seen from sea level, passes -0.8333 degrees in one direction."""
    def elevation(t):
        return 90 - position(t, lat, lon, 0.0, 0.0, 12.0, delta)[1] + 0.8333
    step = timedelta(minutes=5)
    t = begin
    while t < end:
        a, b = elevation(t), elevation(min(t + step, end))
        if (a < 0 <= b) if rising else (a >= 0 > b):
            lo, hi = t, min(t + step, end)
            while hi - lo > timedelta(microseconds=500):
                mid = lo + (hi - lo) / 2
                if (elevation(mid) >= 0) == rising:
                    hi = mid
                else:
                    lo = mid
            return lo + (hi - lo) / 2
        t += step
    return None


def stamp(t):
    return None if t is None else t.isoformat(timespec="milliseconds").replace("+00:00", "Z")


def sunpos():
    cases = []
    for i in range(12):
        lat, lon = float(rng.uniform(-64, 70)), float(rng.uniform(-180, 180))
        elev = float(rng.uniform(0, 3000))
        press = float(pvlib.atmosphere.alt2pres(elev) / 100)
        offset = float(round(lon / 15))
        t = datetime(2020, 1, 1, tzinfo=timezone.utc) + timedelta(minutes=float(rng.integers(0, 15 * 365 * 1440)))
        delta = 69.2
        app, zen, az, eot, dist = position(t, lat, lon, elev, press, 12.0, delta)
        local = (t + timedelta(hours=offset)).date()
        begin = datetime(local.year, local.month, local.day, tzinfo=timezone.utc) - timedelta(hours=offset)
        end = begin + timedelta(days=1)
        rise, fall = crossing(begin, end, lat, lon, delta, True), crossing(begin, end, lat, lon, delta, False)
        noon_up = 90 - position(begin + timedelta(hours=12), lat, lon, 0.0, 0.0, 12.0, delta)[1] > -0.8333
        state = "normal" if rise and fall else "partial" if rise or fall else "always_up" if noon_up else "always_down"
        cases.append({
            "id": f"SP{i:02d}", "site": "drawn", "latitude_deg": lat, "longitude_deg": lon, "elevation_m": elev, "pressure_hpa": press,
            "temperature_c": 12.0, "delta_t_s": delta, "atmos_refract_deg": 0.5667, "time_utc": t.isoformat().replace("+00:00", "Z"),
            "apparent_zenith_deg": app, "true_zenith_deg": zen, "azimuth_deg": az, "equation_of_time_min": eot, "earth_sun_distance_au": dist,
            "utc_offset_h": offset, "local_date": local.isoformat(), "sunrise_utc": stamp(rise), "sunset_utc": stamp(fall), "day_state": state})
    write("sunpos.json", {"title": "sun positions made anew", "cases": cases})


def light():
    cases, n = [], 0

    def add(**c):
        nonlocal n
        n += 1
        cases.append({"id": f"IR{n:03d}", **c})

    for doy in rng.integers(1, 366, 4):
        add(kind="extraterrestrial", method="spencer1971", solar_constant_w_m2=G_SC, day_of_year=int(doy),
            dni_extra_w_m2=float(irradiance.get_extra_radiation(int(doy), G_SC, "spencer")))
    for zenith in rng.uniform(0, 90, 5):
        alt = float(rng.uniform(0, 3000))
        press = float(pvlib.atmosphere.alt2pres(alt))
        rel = float(pvlib.atmosphere.get_relative_airmass(zenith, "kastenyoung1989"))
        add(kind="airmass", model="kastenyoung1989", apparent_zenith_deg=float(zenith), altitude_m=alt, pressure_pa=press,
            airmass_relative=rel, airmass_absolute=float(pvlib.atmosphere.get_absolute_airmass(rel, press)))
    for _ in range(20):
        zenith, azimuth = float(rng.uniform(5, 88)), float(rng.uniform(0, 360))
        doy = int(rng.integers(1, 366))
        extra = float(irradiance.get_extra_radiation(doy, G_SC, "spencer"))
        dni, dhi = float(rng.uniform(0, 950)), float(rng.uniform(20, 350))
        ghi = dni * np.cos(np.radians(zenith)) + dhi
        tilt, facing, albedo = float(rng.uniform(0, 90)), float(rng.uniform(0, 360)), 0.2
        rel = float(pvlib.atmosphere.get_relative_airmass(zenith, "kastenyoung1989"))
        aoi = float(irradiance.aoi(tilt, facing, zenith, azimuth))
        sky = {"isotropic": float(irradiance.isotropic(tilt, dhi)),
               "haydavies": float(irradiance.haydavies(tilt, facing, dhi, dni, extra, zenith, azimuth)),
               "perez": float(irradiance.perez(tilt, facing, dhi, dni, extra, zenith, azimuth, rel))}
        z = np.radians(zenith)
        epsilon = ((dhi + dni) / dhi + 1.041 * z**3) / (1 + 1.041 * z**3)
        bin_ = int(np.digitize(epsilon, (0.0, 1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2)))
        f1c, f2c = irradiance._get_perez_coefficients("allsitescomposite1990")
        bright = dhi * rel / extra
        f1 = max(f1c[bin_ - 1, 0] + f1c[bin_ - 1, 1] * bright + f1c[bin_ - 1, 2] * z, 0)
        f2 = f2c[bin_ - 1, 0] + f2c[bin_ - 1, 1] * bright + f2c[bin_ - 1, 2] * z
        beam = dni * max(np.cos(np.radians(aoi)), 0)
        ground = float(irradiance.get_ground_diffuse(tilt, ghi, albedo))
        add(kind="transposition", name="drawn", apparent_zenith_deg=zenith, solar_azimuth_deg=azimuth, dni_w_m2=dni, dhi_w_m2=dhi,
            ghi_w_m2=float(ghi), day_of_year=doy, dni_extra_w_m2=extra, airmass_relative=rel, surface_tilt_deg=tilt,
            surface_azimuth_deg=facing, albedo=albedo, perez_epsilon=float(epsilon), perez_delta=float(bright), perez_f1=float(f1),
            perez_f2=float(f2), perez_bin=bin_, aoi_deg=aoi, poa_beam_w_m2=float(beam), poa_ground_w_m2=ground,
            **{f"poa_sky_{k}_w_m2": v for k, v in sky.items()},
            **{f"poa_global_{k}_w_m2": float(beam + v + ground) for k, v in sky.items()})
    for aoi in rng.uniform(0, 89, 8):
        add(kind="iam", aoi_deg=float(aoi), ashrae_b0=0.05, ashrae=float(pvlib.iam.ashrae(aoi, 0.05)), physical_n=1.526,
            physical_k_per_m=4.0, physical_l_m=0.002, physical=float(pvlib.iam.physical(aoi, 1.526, 4.0, 0.002)))
    write("irradiance.json", {"title": "light made anew", "cases": cases})


def warmth():
    cases = []
    for i in range(12):
        g, air, wind = (float(x) for x in (rng.uniform(0, 1200), rng.uniform(-20, 45), rng.uniform(0, 12)))
        cases.append({"id": f"CT{i:02d}", "model": "faiman", "poa_w_m2": g, "air_temp_c": air, "wind_m_s": wind, "u0_w_m2_k": 25.0,
                      "u1_w_s_m3_k": 6.84, "cell_temp_c": float(temperature.faiman(g, air, wind, 25.0, 6.84))})
    write("celltemp.json", {"title": "cell temperatures made anew", "cases": cases})


def diode():
    modules, cases = [], []
    for k in range(3):
        cells = [36, 60, 72][k]
        ref = {"I_L_ref_A": float(rng.uniform(5, 12)), "I_o_ref_A": float(10 ** rng.uniform(-11.5, -9.5)), "R_s_ohm": float(rng.uniform(0.1, 0.4)),
               "R_sh_ref_ohm": float(rng.uniform(100, 600)), "a_ref_V": float(cells * rng.uniform(0.0235, 0.028)),
               "alpha_sc_A_per_K": 0.004, "adjust_percent": 0.0, "EgRef_eV": 1.121, "dEgdT_per_K": -0.0002677}
        stc = pvsystem.singlediode(ref["I_L_ref_A"], ref["I_o_ref_A"], ref["R_s_ohm"], ref["R_sh_ref_ohm"], ref["a_ref_V"], method="newton")
        sheet = {"p_mp_W": float(stc["p_mp"]), "i_sc_A": float(stc["i_sc"]), "v_oc_V": float(stc["v_oc"]), "i_mp_A": float(stc["i_mp"]),
                 "v_mp_V": float(stc["v_mp"])}
        warm = pvsystem.calcparams_desoto(1000.0, 26.0, ref["alpha_sc_A_per_K"], ref["a_ref_V"], ref["I_L_ref_A"], ref["I_o_ref_A"],
                                          ref["R_sh_ref_ohm"], ref["R_s_ohm"], ref["EgRef_eV"], ref["dEgdT_per_K"])
        hot = pvsystem.singlediode(*warm, method="newton")
        modules.append({"id": f"M{k}", "description": "drawn", "cells_in_series": cells, **ref, "irrad_ref_W_m2": 1000.0, "temp_ref_C": 25.0,
                        "datasheet": {**sheet, "alpha_isc_percent_per_K": 100 * ref["alpha_sc_A_per_K"] / sheet["i_sc_A"],
                                      "beta_voc_percent_per_K": 100 * (float(hot["v_oc"]) / sheet["v_oc_V"] - 1)},
                        "stc_from_parameters": sheet})
        for i in range(8):
            g, t = float(rng.uniform(30, 1200)), float(rng.uniform(-25, 75))
            il, i0, rs, rsh, a = pvsystem.calcparams_desoto(g, t, ref["alpha_sc_A_per_K"], ref["a_ref_V"], ref["I_L_ref_A"], ref["I_o_ref_A"],
                                                            ref["R_sh_ref_ohm"], ref["R_s_ohm"], ref["EgRef_eV"], ref["dEgdT_per_K"])
            p = pvsystem.singlediode(il, i0, rs, rsh, a, method="newton")
            volts = np.linspace(0, float(p["v_oc"]), 20)
            amps = singlediode.bishop88_i_from_v(volts, il, i0, rs, rsh, a, method="newton")
            cases.append({"id": f"SD{k}{i}", "module": f"M{k}", "irradiance_w_m2": g, "cell_temp_c": t, "il_a": float(il), "i0_a": float(i0),
                          "rs_ohm": float(rs), "rsh_ohm": float(rsh), "a_v": float(a), "i_sc_a": float(p["i_sc"]), "v_oc_v": float(p["v_oc"]),
                          "i_mp_a": float(p["i_mp"]), "v_mp_v": float(p["v_mp"]), "p_mp_w": float(p["p_mp"]), "iv_v": [float(v) for v in volts],
                          "iv_a": [float(v) for v in amps]})
    write("modules.json", {"title": "modules drawn", "modules": modules})
    write("singlediode.json", {"title": "single-diode points made anew", "modules_file": "modules.json", "cases": cases})


sunpos()
light()
warmth()
diode()
print(f"made anew in {folder}")
