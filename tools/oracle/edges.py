"""Solves networks at the edges of what a rig's wiring can be, and writes them in the format that tools/oracle reads: batteries of unlike voltage, a dead
and a turned one, joints without resistance, a bar of many branches, a mesh, a part cut off, modules shorted, open, shaded, dark and above their voltage, loads
just under and beyond what their lines carry.

Each is solved by a nodal Newton method written here, the constant-power loads raised from nothing step by step, the current of each source and joint an
unknown of its own; and again by the circuit simulator ngspice where that finds the same operating point, whose numbers are then written. Networks without an
operating point have the scale at which the rise ends.

    python3 edges.py OUT"""
import json
import math
import pathlib
import sys
import tempfile

from circuits import ends, judge, returns, solve

AGREE = 1e-6  # of two solvers, on node voltages [V]
count = iter(range(10**6))


def element(kind, p, m, name=None, **more):
    nodes = {"a": p, "b": m} if kind in ("resistor", "short") else {"pos": p, "neg": m}
    return {"id": name or f"{kind[:2]}{next(count)}", "kind": kind, **nodes, **more}


def ohms(p, m, r):
    return element("resistor", p, m, ohms=r)


def battery(p, m, v):
    return element("vsource", p, m, volts=v)


def load(p, m, w, name=None):
    return element("constant_power_load", p, m, name, watts=w)


def charger(p, m, w):
    return element("constant_power_source", p, m, watts=w)


def steady(p, m, a):
    return element("constant_current_load", p, m, amps=a)


def joint(p, m):
    return element("short", p, m)


def module(p, m, il, i0=1e-9, a=1.0):
    return element("pv", p, m, il_a=il, i0_a=i0, a_v=a, rs_ohm=0.25, rsh_ohm=300.0)


def bar():
    list_ = [battery("e", "0", 26.1), ohms("e", "bar", 0.003), ohms("bn", "0", 0.0004)]
    for k in range(12):
        x, y = f"x{k}", f"y{k}"
        list_ += [ohms("bar", x, 0.002 * (k + 1)), ohms(y, "bn", 0.0015 * (k + 1))]
        list_.append([load(x, y, 20.0 * k), steady(x, y, 1.5 * (k - 3)), ohms(x, y, 3.0 + k)][k % 3])
    return list_


NETWORKS = {
    "20_unlike_batteries_in_a_mesh": [
        battery("e1", "0", 13.3), ohms("e1", "b1", 0.004), battery("e2", "0", 12.1), ohms("e2", "b2", 0.006), battery("e3", "0", 13.0), ohms("e3", "b3", 0.003),
        ohms("b1", "b2", 0.0008), ohms("b2", "b3", 0.0011), ohms("b3", "b1", 0.0009), ohms("b1", "l1", 0.012), ohms("g1", "0", 0.011), load("l1", "g1", 420.0),
        steady("b2", "0", 17.0), ohms("b3", "l2", 0.03), load("l2", "0", 95.0), ohms("l2", "l1", 0.5)],
    "21_a_dead_string": [
        battery("e1", "0", 12.9), ohms("e1", "b", 0.005), battery("e2", "0", 2.2), ohms("e2", "b", 0.02), battery("e3", "0", 13.1), ohms("e3", "b", 0.004),
        battery("e4", "0", 0.0), ohms("e4", "b", 0.15)],
    "22_a_bar_of_twelve": bar(),
    "23_joints_without_resistance": [
        battery("e", "0", 12.8), ohms("e", "p0", 0.004), joint("p0", "p1"), joint("p1", "bar"), joint("bar", "f1"), joint("bar", "f2"), joint("f3", "bar"),
        ohms("f1", "q1", 0.01), joint("q1", "r1"), load("r1", "m1", 300.0), joint("m1", "bn"), ohms("f2", "q2", 0.02), steady("q2", "m2", 8.0), joint("bn", "m2"),
        load("f3", "bn", 150.0), joint("bn", "gg"), ohms("gg", "0", 0.0006)],
    "24_modules_shorted": [module("p", "m", 9.5), joint("p", "q"), ohms("m", "0", 0.01), ohms("q", "0", 0.02), module("p2", "0", 5.0), joint("p2", "0")],
    "25_modules_open": [module("p", "0", 9.5), ohms("p", "0", 1e6), module("p2", "0", 0.02), ohms("p2", "z", 1e5), ohms("z", "0", 1e5)],
    "26_a_shaded_module_in_a_string": [
        module("a", "b", 9.0), module("b", "c", 1.2), module("c", "0", 9.0), battery("h", "0", 40.0), ohms("a", "h", 0.05)],
    "27_a_dark_module_on_a_bank": [
        battery("e", "0", 51.2), ohms("e", "b", 0.01), module("s", "0", 0.0, a=1.55), ohms("s", "b", 0.03), module("t", "0", 8.0, a=1.55), ohms("t", "b", 0.03),
        load("b", "0", 700.0)],
    "28_a_bank_above_its_module": [battery("e", "0", 24.0), ohms("e", "b", 0.02), module("b", "0", 3.0, i0=1e-7)],
    "29_two_loads_too_many_in_a_mesh": [
        battery("e1", "0", 12.9), ohms("e1", "b1", 0.02), battery("e2", "0", 12.4), ohms("e2", "b2", 0.03), ohms("b1", "b2", 0.004), ohms("b1", "l1", 0.03),
        ohms("l1", "l2", 0.02), ohms("b2", "l2", 0.025), load("l1", "0", 900.0, "first"), load("l2", "0", 700.0, "second"), steady("b2", "0", 20.0)],
    "30_a_load_too_large_beside_a_module": [
        battery("e1", "0", 25.0), ohms("e1", "b", 0.08), module("b", "0", 9.0, i0=1e-8, a=1.5), ohms("b", "l", 0.05), load("l", "0", 1900.0, "inverter")],
    "31_a_load_too_large_beside_a_charger": [
        battery("e1", "0", 12.8), ohms("e1", "b", 0.05), charger("b", "0", 150.0), ohms("b", "l", 0.02), load("l", "0", 950.0, "inverter")],
    "32_just_under_the_limit": [battery("e1", "0", 12.8), ohms("e1", "l", 0.08), load("l", "0", 12.8**2 / 4 / 0.08 * 0.99999, "inverter")],
    "33_chargers_on_a_long_line": [
        battery("e", "0", 12.6), ohms("e", "b", 0.006), charger("s1", "0", 600.0), ohms("s1", "b", 0.02), charger("s2", "b", 90.0), ohms("s2", "0", 40.0),
        charger("s3", "0", 45.0), ohms("s3", "s1", 0.3)],
    "34_a_part_cut_off": [
        battery("e", "0", 13.0), ohms("e", "b", 0.01), load("b", "0", 60.0), ohms("iso", "0", 10.0), steady("iso", "0", 2.0), ohms("iso", "far", 1.0),
        ohms("far", "0", 5.0)],
    "35_microohms_beside_megohms": [
        battery("e", "0", 13.0), ohms("e", "b", 1e-6), ohms("b", "c", 1e-6), ohms("c", "d", 2e6), ohms("d", "0", 3e6), ohms("c", "l", 1e-5), load("l", "m", 2500.0),
        ohms("m", "0", 1e-6), ohms("b", "m", 1e5)],
    "36_the_middle_of_a_bank_as_reference": [
        battery("p", "0", 12.9), battery("0", "n0", 12.7), ohms("n0", "n", 0.004), ohms("p", "pb", 0.004), load("pb", "n", 800.0), load("pb", "0", 90.0),
        steady("0", "n", 11.0), ohms("pb", "x", 0.05), ohms("n", "x", 2.0)],
    "37_a_turned_source": [
        battery("0", "e", -12.8), ohms("e", "b", 0.01), steady("b", "0", -15.0), load("b", "0", 80.0), battery("b2", "0", 12.6), ohms("b2", "b", 0.02)],
    "38_two_ways_back": [
        battery("e", "0", 13.1), ohms("e", "b", 0.003), joint("b", "h"), ohms("h", "l1", 0.01), ohms("h", "l1", 0.02), load("l1", "m1", 500.0), ohms("m1", "0", 0.01),
        ohms("m1", "ch", 0.004), ohms("ch", "0", 0.002), load("l1", "ch", 120.0), steady("h", "ch", 25.0)],
    "39_a_module_alone": [module("p", "0", 9.0, i0=1e-8, a=1.5), ohms("p", "l", 0.1), load("l", "0", 150.0, "pump")],
    "40_a_load_too_large_for_its_module": [module("p", "0", 9.0, i0=1e-8, a=1.5), ohms("p", "l", 0.1), load("l", "0", 400.0, "pump")],
    "41_a_load_behind_an_open_switch": [
        battery("e", "0", 12.8), ohms("e", "b", 0.01), load("b", "0", 200.0), load("off", "0", 50.0), ohms("off", "lamp", 0.2), ohms("lamp", "0", 6.0)],
    "42_a_load_behind_a_switch_that_leaks": [
        battery("e", "0", 12.8), ohms("e", "b", 0.01), load("b", "0", 200.0), ohms("b", "off", 1e9), load("off", "0", 50.0)],
}


def eliminate(a, b):
    """the solution of a dense system, rows scaled and pivoted."""
    n = len(b)
    rows = [r[:] + [x] for r, x in zip(a, b)]
    for r in rows:
        size = max(abs(x) for x in r[:-1]) or 1.0
        for k in range(n + 1):
            r[k] /= size
    for c in range(n):
        p = max(range(c, n), key=lambda r: abs(rows[r][c]))
        rows[c], rows[p] = rows[p], rows[c]
        for r in range(c + 1, n):
            f = rows[r][c] / rows[c][c]
            if f:
                for k in range(c, n + 1):
                    rows[r][k] -= f * rows[c][k]
    x = [0.0] * n
    for r in range(n - 1, -1, -1):
        x[r] = (rows[r][n] - sum(rows[r][k] * x[k] for k in range(r + 1, n))) / rows[r][r]
    return x


class Nodal:
    """a network's equations. Unknowns are the nodes' voltages, the inner voltage of each module, and the current of each source and joint."""

    def __init__(self, v):
        self.v, self.at = v, {}
        inner = ["inside " + e["id"] for e in v["elements"] if e["kind"] == "pv"]
        tied = ["through " + e["id"] for e in v["elements"] if e["kind"] in ("vsource", "short")]
        for name in v["nodes"] + inner + tied:
            self.at[name] = len(self.at)

    def across(self, x, e):
        p, m = ends(e)
        return sum(s * x[self.at[n]] for n, s in ((p, 1), (m, -1)) if n in self.at)

    def equations(self, x, scale):
        n = len(self.at)
        f, a = [0.0] * n, [[0.0] * n for _ in range(n)]

        def flow(p, m, amps, slope):
            for one, s in ((p, 1), (m, -1)):
                if one is None:
                    continue
                f[one] += s * amps
                for other, t in ((p, 1), (m, -1)):
                    if other is not None:
                        a[one][other] += s * t * slope

        for e in self.v["elements"]:
            kind, w = e["kind"], self.across(x, e)
            p, m = (self.at.get(k) for k in ends(e))
            if kind == "resistor":
                flow(p, m, w / e["ohms"], 1 / e["ohms"])
            elif kind in ("vsource", "short"):
                j = self.at["through " + e["id"]]
                f[j] += w - e.get("volts", 0.0)
                for one, s in ((p, 1), (m, -1)):
                    if one is not None:
                        f[one] += s * x[j]
                        a[one][j] += s
                        a[j][one] += s
            elif kind.startswith("constant_power"):
                watts = e["watts"] * (scale if kind.endswith("load") else -1)
                if watts:
                    w = w if abs(w) > 1e-6 else 1e-6
                    flow(p, m, watts / w, -watts / w / w)
            elif kind == "constant_current_load":
                flow(p, m, e["amps"], 0.0)
            else:
                j = self.at["inside " + e["id"]]
                w = x[j] - (x[m] if m is not None else 0.0)
                lost = e["i0_a"] * math.exp(min(w / e["a_v"], 200))
                flow(j, m, lost - e["i0_a"] + w / e["rsh_ohm"] - e["il_a"], lost / e["a_v"] + 1 / e["rsh_ohm"])
                flow(j, p, (x[j] - (x[p] if p is not None else 0.0)) / e["rs_ohm"], 1 / e["rs_ohm"])
        return f, a

    def newton(self, x, scale, steps):
        """the root near x, or None."""
        for _ in range(steps):
            f, a = self.equations(x, scale)
            try:
                d = eliminate(a, [-y for y in f])
            except (ZeroDivisionError, OverflowError):
                return None
            t = 1.0
            for e in self.v["elements"]:
                if e["kind"] == "pv":
                    m = self.at.get(ends(e)[1])
                    step = abs(d[self.at["inside " + e["id"]]] - (d[m] if m is not None else 0.0))
                    t = min(t, 3 * e["a_v"] / max(step, 1e-12))
                elif e["kind"].startswith("constant_power") and (scale or e["kind"].endswith("source")):
                    w, step = self.across(x, e), self.across(d, e)
                    if w > 0 and w + t * step < 0.3 * w:
                        t = min(t, 0.7 * w / -step)
            x = [y + t * z for y, z in zip(x, d)]
            if t == 1.0 and max(map(abs, d)) < 1e-11 * max(1.0, max(map(abs, x))):
                return x
        return None

    def rise(self):
        """how far the loads rise, up to what they ask, and the unknowns there."""
        near = returns(self.v)
        top = max([abs(e["volts"]) for e in self.v["elements"] if e["kind"] == "vsource"] + [20.0])
        x = self.newton([0.0 if n in near else top * (1 + 0.31 * (i % 4)) for n, i in self.at.items()], 0.0, 400)
        if x is None:
            sys.exit(self.v["id"] + ": no state with the loads off")
        scale, step = 0.0, 1.0
        while scale < 1 and step > 1e-12 * scale + 1e-24:
            y = self.newton(x, min(1.0, scale + step), 60)
            loads = [e for e in self.v["elements"] if e["kind"].startswith("constant_power")]
            if y and all(self.across(y, e) > 0 for e in loads) and max(abs(self.across(y, e) - self.across(x, e)) for e in loads + [self.v["elements"][0]]) < 30 * math.sqrt(step / (scale + step)):
                scale, x = min(1.0, scale + step), y
            else:
                step /= 2
        return scale, x


def main():
    out = pathlib.Path(sys.argv[1])
    out.mkdir(parents=True, exist_ok=True)
    index = {"title": "networks at the edges", "solver": "a nodal Newton method with load continuation; ngspice where it finds the same point", "units": {},
             "suggested_tolerance": {"node_voltages_v": 1e-5, "current_a": "1e-3 or 1e-5 relative", "critical_scale": 1e-3}, "circuits": []}
    for name, elements in NETWORKS.items():
        nodes = list(dict.fromkeys(n for e in elements for n in ends(e) if n != "0"))
        v = {"id": name, "name": "base", "netlist": name + ".cir", "nodes": nodes, "reference_node": "0", "elements": elements}
        nodal = Nodal(v)
        scale, x = nodal.rise()
        volts = {n: x[nodal.at[n]] for n in nodes}
        v["feasible"] = scale >= 1
        with tempfile.TemporaryDirectory() as folder:
            simulated = solve(v, pathlib.Path(folder) / v["netlist"])
        same = simulated and v["feasible"] and max(abs(simulated[0][n] - volts[n]) for n in nodes) < AGREE
        if v["feasible"]:
            said = {f"i(v_{e['id'].lower()})": x[nodal.at["through " + e["id"]]] for e in elements if e["kind"] in ("vsource", "short")}
            results, source, absorbed = judge(v, *simulated) if same else judge(v, {**volts, "0": 0.0}, said)
            v.update(node_voltages_v={n: simulated[0][n] for n in nodes} if same else volts, element_results=results, total_source_power_w=source, total_absorbed_power_w=absorbed)
        else:
            v.update(critical_scale=scale, node_voltages_at_critical_v=volts)
        v["ngspice"] = "agrees" if same else "finds no such point"
        del v["netlist"], v["id"]
        (out / f"{name}.json").write_text(json.dumps({"id": name, "variants": [v]}, separators=(",", ":")) + "\n")
        index["circuits"].append({"id": name, "title": name, "file": f"{name}.json", "variants": ["base"], "feasible": [v["feasible"]]})
        print(f"{name}: {'solved' if v['feasible'] else f'up to {scale:.6f}'}; ngspice {v['ngspice']}")
    (out / "index.json").write_text(json.dumps(index, indent=1) + "\n")


main()
