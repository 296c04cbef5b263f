#!/usr/bin/env python3
"""Prints, side by side in one run, how fast trials and formulas are.

  python3 testdata/benchmarks/compare.py     (needs numpy; run it on an idle machine)

1. A million Monte Carlo trials of a formula of five normal inputs with its
   95 % interval: vectorised numpy on one processor, and the compiled program
   on one and on two.
2. One evaluation of that formula: by HCL's own evaluator, by a frame, and by a
   batch.
3. The uncertainty of a gate of 40 inputs with three takes each, from the
   readings to the budget: by slopes, and with a look whether the formula bends.

Each time is the least of several runs, which is the one least disturbed.
"""
import os
import re
import subprocess
import time

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np

M, RUNS = 1_000_000, 15
HERE = os.path.dirname(os.path.abspath(__file__))
MODULE = os.path.join(HERE, "..", "..")


def trial():
    start = time.perf_counter()
    rng = np.random.default_rng(1)
    far, near = rng.normal(30.045, 0.001, M), rng.normal(30.012, 0.001, M)
    centres, span = rng.normal(300, 0.5, M), rng.normal(250, 0.3, M)
    left = rng.normal(0.002, 0.0005, M)
    y = (far - near) / 2 * centres / span - left
    y.mean(), y.std(ddof=1), np.quantile(y, [0.025, 0.975])
    return time.perf_counter() - start


def go_benchmarks():
    """Least ns/op of each benchmark, by name with the number of processors."""
    out = subprocess.run(
        ["go", "test", "-run", "^$", "-bench", "^(BenchmarkMillion|BenchmarkFive|BenchmarkGate)$", "-cpu", "1,2",
         "-count", "6", "-benchtime", "0.3s", "./procedures/formula/compile"],
        cwd=MODULE, check=True, capture_output=True, text=True).stdout
    least = {}
    for name, ns in re.findall(r"^Benchmark(\S+)\s+\d+\s+([\d.]+) ns/op", out, re.M):
        if not name.endswith("-2"):
            name += "-1"
        least[name] = min(float(ns), least.get(name, float("inf")))
    return least


def main():
    numpy_ms = min(trial() for _ in range(RUNS)) * 1e3
    g = go_benchmarks()
    numpy_ms = min(numpy_ms, min(trial() for _ in range(RUNS)) * 1e3)
    one, two = g["Million-1"] / 1e6, g["Million-2"] / 1e6
    print(f"a million trials of five inputs, with the 95 % interval (numpy {np.__version__})")
    print(f"  numpy, one processor     {numpy_ms:8.1f} ms")
    print(f"  program, one processor   {one:8.1f} ms   {one / numpy_ms:5.2f} of numpy (wanted: at most 0.5)")
    print(f"  program, two processors  {two:8.1f} ms   {one / two:5.2f} times as fast as one")
    print("the uncertainty of a gate of 40 inputs")
    for way, says in (("slopes", "slopes and budget"), ("slopes+bends", "with a look for bends")):
        ms = g[f"Gate/{way}-1"] / 1e6
        print(f"  {says:<24} {ms:8.3f} ms   {ms:5.2f} of a millisecond (wanted: at most 1)")
    hcl = g["Five/hcl-1"]
    print("one evaluation of the formula")
    print(f"  HCL's evaluator          {hcl:8.1f} ns")
    for way in ("frame", "batch"):
        ns = g[f"Five/{way}-1"]
        print(f"  {way:<24} {ns:8.1f} ns   {hcl / ns:5.0f} times as fast (wanted: at least 100)")


if __name__ == "__main__":
    main()
