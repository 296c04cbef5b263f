#!/usr/bin/env python3
"""Prints, side by side in one run, how fast lines, zones and circles are.

  python3 testdata/benchmarks/geometry.py     (needs numpy; run it on an idle machine)

1. The least-squares line of a million points: numpy's polyfit and ours.
2. Minimum-zone straightness of a million points against sorting them.
3. Minimum-zone flatness of 10^4, 10^5 and 10^6 points: time for each point.
4. Minimum-zone roundness of 3600 points.

Each time is the least of several runs, which is the one least disturbed.
"""
import os
import re
import subprocess
import time

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
MODULE = os.path.join(HERE, "..", "..")


def polyfit():
    x = np.arange(1_000_000) / 10
    y = 250 + 0.002 * np.sin(x / 1e5 * 9) + 0.001 * np.random.default_rng(1).normal(size=x.size)
    best = float("inf")
    for _ in range(7):
        start = time.perf_counter()
        np.polyfit(x, y, 1)
        best = min(best, time.perf_counter() - start)
    return best * 1e3


def go_benchmarks():
    out = subprocess.run(
        ["go", "test", "-run", "^$", "-bench", ".", "-cpu", "1", "-count", "5", "-benchtime", "3x", "./checks/form"],
        cwd=MODULE, check=True, capture_output=True, text=True).stdout
    least = {}
    for name, ns in re.findall(r"^Benchmark(\S+?)(?:-\d+)?\s+\d+\s+([\d.]+) ns/op", out, re.M):
        least[name] = min(float(ns) / 1e6, least.get(name, float("inf")))
    return least


def main():
    numpy_ms = polyfit()
    g = go_benchmarks()
    numpy_ms = min(numpy_ms, polyfit())

    def line(what, ms, against=""):
        print(f"{what:<58}{ms:10.2f} ms{against}")

    line("line of 10^6 points, numpy polyfit", numpy_ms)
    line("line of 10^6 points, ours", g["Line1e6"], f"   {g['Line1e6'] / numpy_ms:.2f} of numpy (wanted: at most 1)")
    line("sorting 10^6 points", g["Sort1e6"])
    line("straightness of 10^6 points, least zone", g["Straightness1e6"],
         f"   {g['Straightness1e6'] / g['Sort1e6']:.2f} of sorting (wanted: at most 3)")
    for n, name in ((1e4, "Flatness1e4"), (1e5, "Flatness1e5"), (1e6, "Flatness1e6")):
        line(f"flatness of 10^{round(np.log10(n))} points, least zone", g[name], f"   {g[name] / n * 1e6:.0f} ns a point"
             + ("   (wanted: under 200 ms)" if n == 1e4 else ""))
    line("roundness of 3600 points, least zone", g["Roundness3600"], "   (wanted: under 10 ms)")
    line("roundness of 3600 points, circumscribed", g["Circumscribed3600"])


if __name__ == "__main__":
    main()
