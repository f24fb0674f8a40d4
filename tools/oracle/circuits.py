"""Solves networks anew with the circuit simulator ngspice and writes them in the format that tools/oracle reads: those of a folder, each
infeasible one with its loads brought just under the critical scale that its file gives, and as many drawn ones. The draws are seeded.

    python3 circuits.py OUT SEED DIR..."""
import copy
import json
import math
import pathlib
import random
import subprocess
import sys

rng = random.Random()
DRAWN = 24
LEAST = 0.1  # a constant-power element below this voltage [V] has no operating point
UNDER = 0.98


def ends(e):
    """the two nodes of an element, positive first."""
    return e.get("a", e.get("pos")), e.get("b", e.get("neg"))


def returns(v):
    """the nodes that cables join to the reference node: there the simulator starts from nothing, elsewhere from a full battery, since a
    constant-power load begun at no voltage is drawn to a point that is none."""
    near, grown = {v["reference_node"]}, True
    while grown:
        grown = False
        for e in v["elements"]:
            p, m = ends(e)
            if (e["kind"] == "short" or e["kind"] == "resistor" and e["ohms"] < 0.2) and (p in near) != (m in near):
                near |= {p, m}
                grown = True
    return near


def deck(v, start):
    """the netlist of a variant, and what names its nodes there."""
    lines, zero = ["* " + v["name"], ".options reltol=1e-10 abstol=1e-12 vntol=1e-12 gmin=1e-18 itl1=5000"], v["reference_node"]

    def n(node):
        return "0" if node == zero else "n_" + node

    for e in v["elements"]:
        p, m = (n(x) for x in ends(e))
        name, kind = e["id"], e["kind"]
        volts = f"max(v({p},{m}),{LEAST})"
        if kind == "resistor":
            lines.append(f"r_{name} {p} {m} {e['ohms']!r}")
        elif kind == "vsource":
            lines.append(f"v_{name} {p} {m} dc {e['volts']!r}")
        elif kind == "short":
            lines.append(f"v_{name} {p} {m} dc 0")
        elif kind == "constant_power_load":
            lines.append(f"b_{name} {p} {m} i = {e['watts']!r}/{volts}")
        elif kind == "constant_power_source":
            lines.append(f"b_{name} {m} {p} i = {e['watts']!r}/{volts}")
        elif kind == "constant_current_load":
            lines.append(f"i_{name} {p} {m} dc {e['amps']!r}")
        elif kind == "pv":
            j = f"j_{name}"
            lines.append(f"b_{name} {m} {j} i = {e['il_a']!r} - {e['i0_a']!r}*(exp(v({j},{m})/{e['a_v']!r})-1) - v({j},{m})/{e['rsh_ohm']!r}")
            lines.append(f"r_{name} {j} {p} {e['rs_ohm']!r}")
            lines.append(f".nodeset v({j})={start}")
        else:
            sys.exit(f"kind {kind} is not known")
    near = returns(v)
    lines += [f".nodeset v({n(x)})={0 if x in near else start}" for x in v["nodes"] if x != zero]
    lines += [".control", "set numdgt=15", "op"]
    lines += [f"print v({n(x)})" for x in v["nodes"] if x != zero]
    lines += [f"print i(v_{e['id']})" for e in v["elements"] if e["kind"] in ("vsource", "short")]
    return "\n".join(lines + [".endc", ".end", ""]), n


def solve(v, path):
    """node voltages and currents of sources, or None where the simulator finds no operating point."""
    start = max([abs(e["volts"]) for e in v["elements"] if e["kind"] == "vsource"] + [1.0])
    text, n = deck(v, start)
    path.write_text(text)
    run = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True)
    said = {}
    for line in run.stdout.splitlines():
        name, eq, value = line.partition(" = ")
        if eq:
            try:
                said[name.strip().lower()] = float(value.split()[0])
            except ValueError:
                pass
    volts = {v["reference_node"]: 0.0}
    for node in v["nodes"]:
        got = 0.0 if node == v["reference_node"] else said.get(f"v({n(node).lower()})")
        if got is None:
            return None
        volts[node] = got
    return volts, said


def judge(v, volts, said):
    """the element results of a solved variant, or None where a constant-power element has no operating point."""
    results, source, absorbed = {}, 0.0, 0.0
    for e in v["elements"]:
        p, m = ends(e)
        across, kind = volts[p] - volts[m], e["kind"]
        if kind.startswith("constant_power") and across <= LEAST * 1.001:
            return None
        gives = kind in ("vsource", "constant_power_source", "pv")
        if kind == "resistor":
            amps = across / e["ohms"]
        elif kind == "vsource":
            amps = -said[f"i(v_{e['id'].lower()})"]
        elif kind == "short":
            amps = said[f"i(v_{e['id'].lower()})"]
        elif kind in ("constant_power_load", "constant_power_source"):
            amps = e["watts"] / across
        elif kind == "constant_current_load":
            amps = e["amps"]
        else:  # the current of a module follows from its voltage: found by halving, since it rises with the inner voltage
            lo, hi = min(across, 0), max(across, 0) + e["rs_ohm"] * e["il_a"]  # dark modules on a bank carry current backwards
            for _ in range(200):
                mid = (lo + hi) / 2
                inner = e["il_a"] - e["i0_a"] * math.expm1(min(mid / e["a_v"], 600)) - mid / e["rsh_ohm"]
                lo, hi = (mid, hi) if inner > (mid - across) / e["rs_ohm"] else (lo, mid)
            amps = (lo - across) / e["rs_ohm"]
        watts = across * amps
        results[e["id"]] = {"current_a": amps, "voltage_v": across, "power_w": watts}
        source, absorbed = (source + watts, absorbed) if gives else (source, absorbed + watts)
    return results, source, absorbed


def draw(k):
    """a rig's network, meshed at random: batteries on a bus, branches, loads of three kinds, chargers and modules."""
    elements, nodes, count = [], [], iter(range(10**6))

    def add(kind, p, m, **more):
        names = {"a": p, "b": m} if kind in ("resistor", "short") else {"pos": p, "neg": m}
        elements.append({"id": f"{kind[:2]}{next(count)}", "kind": kind, **names, **more})
        for x in (p, m):
            if x != "0" and x not in nodes:
                nodes.append(x)

    emf = rng.choice([12.0, 13.2, 25.6, 51.2]) * rng.uniform(0.95, 1.08)
    buses = [f"bus{i}" for i in range(rng.randint(1, 4))]
    for i in range(rng.randint(1, 4)):
        add("vsource", f"e{i}", "0", volts=emf * rng.uniform(0.995, 1.005))
        add("resistor", f"e{i}", buses[0], ohms=rng.uniform(0.002, 0.02))
    for i in range(1, len(buses)):
        add("resistor", buses[rng.randrange(i)], buses[i], ohms=10 ** rng.uniform(-4, -2))
    if len(buses) > 2:
        add("resistor", buses[0], buses[-1], ohms=10 ** rng.uniform(-4, -2))  # a mesh
    for i in range(rng.randint(1, 6)):
        far, back = f"l{i}", f"g{i}"
        add("resistor", rng.choice(buses), far, ohms=10 ** rng.uniform(-3, -1.3))
        add("resistor", back, "0", ohms=10 ** rng.uniform(-3, -1.3))
        kind = rng.choice(["constant_power_load", "constant_power_load", "constant_current_load", "resistor", "constant_power_source", "pv"])
        if kind == "constant_current_load":
            add(kind, far, back, amps=rng.uniform(0.1, 30))
        elif kind == "resistor":
            add(kind, far, back, ohms=rng.uniform(0.5, 50))
        elif kind == "pv":
            add(kind, far, back, il_a=rng.uniform(0.5, 12), i0_a=1e-9, a_v=emf * 1.6 / 24, rs_ohm=rng.uniform(0.1, 0.4), rsh_ohm=rng.uniform(100, 500))
        else:
            add(kind, far, back, watts=10 ** rng.uniform(0.5, 2.6))
    return {"name": "base", "nodes": nodes, "reference_node": "0", "elements": elements}


def scaled(v):
    """a variant without an operating point, its constant-power loads brought under the scale at which it has one."""
    v = copy.deepcopy({k: v[k] for k in ("name", "nodes", "reference_node", "elements", "critical_scale")})
    scale = UNDER * v.pop("critical_scale")
    for e in v["elements"]:
        if e["kind"] == "constant_power_load":
            e["watts"] *= scale
    return v


def main():
    out, seed, folders = pathlib.Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3:]
    rng.seed(seed)
    out.mkdir(parents=True, exist_ok=True)
    index = {"title": "networks solved anew", "solver": "ngspice", "units": {}, "suggested_tolerance": {
        "node_voltages_v": 1e-5, "current_a": "1e-3 or 1e-5 relative", "critical_scale": 1e-3}, "circuits": []}
    wanted = []
    for folder in folders:
        for entry in json.loads((pathlib.Path(folder) / "index.json").read_text())["circuits"]:
            body = json.loads((pathlib.Path(folder) / entry["file"]).read_text())
            wanted.append((entry["id"], [v if v["feasible"] else scaled(v) for v in body["variants"]]))
    wanted += [(f"drawn_{k:02d}", [draw(k)]) for k in range(DRAWN)]
    none = 0
    for name, variants in wanted:
        kept = []
        for v in variants:
            netlist = f"{name}_{v['name']}.cir"
            solved = solve(v, out / netlist)
            judged = solved and judge(v, *solved)
            if not judged:
                none += 1
                continue
            results, source, absorbed = judged
            kept.append({"name": v["name"], "netlist": netlist, "nodes": v["nodes"], "reference_node": v["reference_node"], "elements": v["elements"],
                         "feasible": True, "node_voltages_v": {k: solved[0][k] for k in v["nodes"]}, "element_results": results,
                         "total_source_power_w": source, "total_absorbed_power_w": absorbed})
        if not kept:
            continue
        (out / f"{name}.json").write_text(json.dumps({"id": name, "variants": kept}, indent=1))
        index["circuits"].append({"id": name, "title": name, "file": f"{name}.json", "variants": [v["name"] for v in kept], "feasible": [True] * len(kept)})
    (out / "index.json").write_text(json.dumps(index, indent=1))
    total = sum(len(c["variants"]) for c in index["circuits"])
    print(f"{total} networks solved by ngspice, {none} left out for which it finds no operating point")
    if total < DRAWN // 2:
        sys.exit("too few networks were solved to tell anything")


if __name__ == "__main__":
    main()
