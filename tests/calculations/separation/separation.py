"""Writes separation.json: separation by general-purpose libraries.

Run with: python3 tests/calculations/separation/separation.py
Recorded with fluids 1.3.1 (terminal velocities), scipy 1.17.1 (integrals over
size distributions, transients, trajectories in a bowl) and iapws 1.5.5 (density
and viscosity of water); the seed makes the questions the same every time.
"""

import json
import math
import pathlib
import random

from fluids.drag import v_terminal
from iapws import IAPWS95
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq
from scipy.stats import norm

random.seed(20261125)
G = 9.80665
RHO, MU = 998.2, 1.002e-3


def velocity(d: float, rho_p: float, rho: float, mu: float) -> float:
    """In m/s; rising particles use the mirrored density, because the library gives plain Stokes for them."""
    mirrored = rho_p if rho_p > rho else 2 * rho - rho_p
    return v_terminal(d, mirrored, rho, mu)


def velocities() -> list:
    cases = []
    for number in range(200):
        rises = number % 2
        size = 10 ** random.uniform(0, 3.7)
        rho = random.uniform(950, 1050)
        mu = 10 ** random.uniform(-3.5, -2)
        rho_p = random.uniform(600, rho - 20) if rises else random.uniform(rho + 20, 9000)
        v = velocity(size * 1e-6, rho_p, rho, mu)
        cases.append(
            {
                "size": size,
                "density": rho_p / 1000,
                "fluid_density": rho / 1000,
                "viscosity": mu * 1000,
                "velocity": v * 3600,
                "reynolds": rho * v * size * 1e-6 / mu,
            }
        )
    return cases


def fluid() -> dict:
    return {"density": RHO / 1000, "viscosity": MU * 1000}


def material() -> float:
    return random.choice([random.uniform(0.75, 0.95), random.uniform(1.5, 8.0)])


def log_normal(stage: dict, throughput: float, density: float, median: float, gsd: float) -> dict:
    return {
        "units": "metric",
        "throughput": throughput,
        "separator": {
            "stage": stage,
            "fluid": fluid(),
            "particles": [
                {
                    "property": "solids",
                    "density": density,
                    "sizes": {"by": "log_normal", "median": median, "geometric_standard_deviation": gsd},
                }
            ],
        },
    }


def shares(grade, kinks: list, median: float, gsd: float) -> dict:
    """Removed share and quantiles of the remaining sizes, in m."""
    s = math.log(gsd)
    cuts = {z for z in (math.log(k / median) / s for k in kinks) if -9 < z < 9}
    grid = sorted(cuts | {-9 + 0.5 * i for i in range(37)})
    left = lambda z: (1 - grade(median * math.exp(s * z))) * norm.pdf(z)
    part = lambda of, low, high: quad(of, low, high, epsabs=1e-13, epsrel=1e-10)[0]
    panels = list(zip(grid, grid[1:]))
    kept = [part(left, low, high) for low, high in panels]
    removed = sum(part(lambda z: grade(median * math.exp(s * z)) * norm.pdf(z), *panel) for panel in panels)
    found = {"removed": removed * 100}
    if sum(kept) > 1e-6:
        for name, share in (("d10", 0.1), ("d50", 0.5), ("d90", 0.9)):
            missing = share * sum(kept)
            for (low, high), here in zip(panels, kept):
                if here >= missing:
                    z = brentq(lambda z: part(left, low, z) - missing, low, high, xtol=1e-12)
                    found[name] = median * math.exp(s * z) * 1e6
                    break
                missing -= here
    return found


def tank() -> dict:
    length, width = random.uniform(500, 5000), random.uniform(300, 2000)
    throughput, density = 10 ** random.uniform(1.5, 4), material()
    median, gsd = 10 ** random.uniform(0.5, 2.5), random.uniform(1.2, 4)
    asked = log_normal(
        {"kind": "settling", "length": length, "width": width}, throughput, density, median, gsd
    )
    loading = throughput / 3.6e6 / (length * width * 1e-6)
    v = lambda d: velocity(d, density * 1000, RHO, MU)
    cut = brentq(lambda x: v(math.exp(x)) - loading, math.log(1e-9), math.log(0.01), xtol=1e-14)
    found = shares(
        lambda d: min(1.0, v(d) / loading) if d < math.exp(cut) else 1.0, [math.exp(cut)], median * 1e-6, gsd
    )
    return {"question": asked, **found, "all_from": math.exp(cut) * 1e6}


def bowl() -> dict:
    """A plain bowl, by following particles of one size through it."""
    speed, radius = random.uniform(3000, 20000), random.uniform(30, 120)
    surface, length = radius * random.uniform(0.3, 0.95), random.uniform(200, 900)
    throughput, density = 10 ** random.uniform(1.5, 3.5), material()
    stage = {
        "kind": "tubular_centrifuge",
        "speed": speed,
        "bowl_radius": radius,
        "surface_radius": surface,
        "bowl_length": length,
    }
    asked = log_normal(stage, throughput, density, 1.0, 2.0)
    omega = speed * 2 * math.pi / 60
    r_0, r_1, long = radius / 1000, surface / 1000, length / 1000
    stay = math.pi * (r_0**2 - r_1**2) * long / (throughput / 3.6e6)
    rises = density * 1000 < RHO
    end = r_1 if rises else r_0

    def factor(d: float) -> float:
        """The radius from which the end is just reached, by the equation of motion backwards."""
        rate = d * d * (density * 1000 - RHO) / (18 * MU) * omega**2
        if abs(rate * stay) > 30:
            return r_0 if rises else r_1
        step = solve_ivp(lambda _, r: [-rate * r[0]], (0, stay), [end], rtol=1e-12, atol=1e-15)
        return min(max(step.y[0, -1], r_1), r_0)

    def grade(d: float) -> float:
        start = factor(d)
        share = (start**2 - r_1**2) if rises else (r_0**2 - start**2)
        return share / (r_0**2 - r_1**2)

    # Sizes up to and beyond the one that just crosses completely.
    across = math.sqrt(math.log(r_0 / r_1) / stay * 18 * MU / (abs(density * 1000 - RHO) * omega**2))
    sizes = [across * 1e6 * part for part in (0.1, 0.3, 0.5, 0.7, 0.8, 0.9, 0.98, 1.02, 1.5)]
    return {"question": asked, "sizes": sizes, "grades": [grade(d * 1e-6) * 100 for d in sizes]}


def recirculated() -> dict:
    """A recirculated tank with an inflow, each size by its own equation."""
    throughput, volume, hours = random.uniform(50, 2000), random.uniform(100, 3000), random.uniform(1, 48)
    content, rate = random.uniform(0, 800), random.uniform(0.001, 0.05)
    grades = sorted(random.uniform(5, 100) for _ in range(4))
    sizes = sorted(random.uniform(1, 80) for _ in range(4))
    parts = [random.uniform(1, 10) for _ in range(4)]
    parts = [100 * part / sum(parts) for part in parts]
    asked = {
        "units": "metric",
        "throughput": throughput,
        "separator": {
            "stage": {"kind": "filter", "grades": [{"size": d, "share": g} for d, g in zip(sizes, grades)]},
            "particles": [
                {
                    "property": "solids",
                    "sizes": {
                        "by": "list",
                        "classes": [{"size": d, "share": w} for d, w in zip(sizes, parts)],
                    },
                }
            ],
        },
        "feed": {"volume": volume, "properties": {"solids": content}},
        "recirculation": {"hours": hours, "inflows": [{"property": "solids", "rate": rate}]},
    }
    start = [content * part / 100 for part in parts]
    comes = [rate * 1e6 / volume * part / 100 for part in parts]

    def change(_, c):
        return [comes[i] - throughput / volume * grades[i] / 100 * c[i] for i in range(4)]

    end = solve_ivp(change, (0, hours), start, rtol=1e-11, atol=1e-12, method="DOP853").y[:, -1]
    settles = sum(comes[i] * volume / (throughput * grades[i] / 100) for i in range(4))
    return {"question": asked, "content": float(sum(end)), "settles_at": settles}


def water() -> list:
    cases = []
    for celsius in range(1, 99, 2):
        state = IAPWS95(T=celsius + 273.15, P=0.101325)
        cases.append({"celsius": celsius, "density": state.rho, "viscosity": state.mu * 1000})
    return cases


recorded = {
    "velocities": velocities(),
    "tanks": [tank() for _ in range(25)],
    "bowls": [bowl() for _ in range(25)],
    "recirculated": [recirculated() for _ in range(25)],
    "water": water(),
}
path = pathlib.Path(__file__).with_suffix(".json")
path.write_text(json.dumps(recorded, indent=1) + "\n")
