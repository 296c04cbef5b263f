#!/usr/bin/env python3
"""Makes values.json: what numpy and scipy give for seeded data of the kinds
that are read at machines. The tests compare the program's own computations
with it. Run it again with

  python3 testdata/crosscheck/make.py

(needs numpy and scipy); the file names the versions that made it. Zones and
touching circles are linear programs here, solved by HiGHS.
"""
import json
import os
import platform

import numpy as np
import scipy
from scipy import stats
from scipy.optimize import linprog

rng = np.random.default_rng(20)


def zone(shapes, y):
    """Least range of y less a constant and shapes."""
    n, k = len(y), len(shapes)
    a = np.column_stack([np.ones(n)] + shapes)
    c = np.zeros(k + 2)
    c[-1] = 1
    m = y.mean()
    up = np.column_stack([a, -np.ones(n)])
    low = np.column_stack([-a, -np.ones(n)])
    r = linprog(c, np.vstack([up, low]), np.concatenate([y - m, m - y]),
                bounds=[(None, None)] * (k + 1) + [(0, None)], method="highs",
                options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10})
    # the vertex, told exactly by its own residuals
    e = y - m - a @ r.x[:-1]
    return float(e.max() - e.min())


def residual_range(shapes, y):
    a = np.column_stack([np.ones(len(y))] + shapes)
    coef, *_ = np.linalg.lstsq(a, y, rcond=None)
    e = y - a @ coef
    return float(e.max() - e.min())


def circumscribed(phi, r):
    """The least c of c + a cos + b sin that encloses."""
    a = -np.column_stack([np.ones(len(r)), np.cos(phi), np.sin(phi)])
    s = linprog([1, 0, 0], a, -r, bounds=[(None, None)] * 3, method="highs")
    return float(s.fun)


out = {"made_by": {"python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__}}

out["lines"] = []
for n in (3, 7, 12, 40, 200):
    x = np.sort(rng.uniform(0, 1000, n))
    y = 5 * np.sin(x / 150) + rng.normal(0, 2, n) + 0.03 * x
    s = stats.linregress(x, y)
    out["lines"].append({"at": x.tolist(), "values": y.tolist(), "slope": float(s.slope), "at_zero": float(s.intercept),
                         "least_squares": residual_range([x], y), "minimum_zone": zone([x], y),
                         "correlation": float(stats.pearsonr(x, y)[0])})

out["planes"] = []
for n in (5, 9, 25, 120):
    x, y = rng.uniform(-600, 600, n), rng.uniform(-450, 450, n)
    z = 3 * (x / 600) ** 2 - 2 * (y / 450) ** 2 + rng.normal(0, 0.5, n) + 0.002 * x - 0.01 * y
    out["planes"].append({"x": x.tolist(), "y": y.tolist(), "z": z.tolist(),
                          "least_squares": residual_range([x, y], z), "minimum_zone": zone([x, y], z)})

out["turns"] = []
for n in (5, 8, 12, 36, 180):
    phi = 2 * np.pi * np.arange(n) / n
    r = 4 * np.cos(phi - 1) + 1.5 * np.cos(2 * phi) + rng.normal(0, 0.4, n)
    f = np.fft.rfft(r)
    lobes = (2 / n * np.abs(f[1:(n + 1) // 2])).tolist()
    shapes = [np.cos(phi), np.sin(phi)]
    out["turns"].append({"angles": phi.tolist(), "readings": r.tolist(), "lobes": lobes,
                         "least_squares": residual_range(shapes, r), "minimum_zone": zone(shapes, r),
                         "circumscribed_c": circumscribed(phi, r), "inscribed_c": -circumscribed(phi, -r)})

out["groups"] = []
for k in (2, 3, 5):
    g = [rng.normal(25 + rng.normal(0, 0.002), 0.001, rng.integers(3, 9)) for _ in range(k)]
    a = stats.f_oneway(*g)
    w = stats.ttest_ind(g[0], g[1], equal_var=False)
    v = [np.var(x, ddof=1) / len(x) for x in g[:2]]
    dof = sum(v) ** 2 / sum(s * s / (len(x) - 1) for s, x in zip(v, g))
    out["groups"].append({"groups": [x.tolist() for x in g], "f": float(a.statistic),
                          "welch_t": float(w.statistic), "welch_dof": float(dof),
                          "welch_p": float(w.pvalue)})

out["t_factors"] = [{"dof": d, "level": p, "t": float(stats.t.ppf((1 + p) / 2, d))}
                    for d in (1, 2.5, 4, 10, 37.4, 200) for p in (0.5, 0.6827, 0.95, 0.9545, 0.99, 0.9973)]

out["pads"] = []
for n in (3, 4, 6, 8):
    z, x = rng.uniform(-400, 0, n), rng.normal(0, 90, n)
    slope = float(rng.normal(0, 1e-4))
    for sign in (1, -1):
        # amounts a >= 0, lift and roll free: sign*a = lift + roll*x - slope*z
        a = np.hstack([sign * np.eye(n), -np.ones((n, 1)), -x[:, None]])
        s = linprog([1.0] * n + [0, 0], A_eq=a * 1000, b_eq=-slope * z * 1000,
                    bounds=[(0, None)] * n + [(None, None)] * 2, method="highs")
        out["pads"].append({"z": z.tolist(), "x": x.tolist(), "slope": slope, "shim": sign == 1, "total": float(s.fun)})

with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "values.json"), "w") as f:
    json.dump(out, f, indent=1)
    f.write("\n")
