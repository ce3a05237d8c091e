"""The peer of the benchmark "index": the same equations, vectorised with NumPy. Reads and writes raw doubles; prints seconds."""
import json
import sys
import time
from concurrent.futures import ProcessPoolExecutor

import numpy as np

RESOLUTION, TARE, TARE_SD, DAYS_U = 0.001, 0.25, 0.01, 0.5 * np.sqrt(2 / 3)
H_FAST, U_FAST, H_SLOW, U_SLOW = 0.80, 0.02, 0.55, 0.04


def remaining(initial, final):
    i, f = initial - TARE, final - TARE
    w, p, u = f / i, 1 / i, RESOLUTION / np.sqrt(12)
    return w, np.sqrt((p * u) ** 2 + (w / i * u) ** 2 + ((w / i - p) * TARE_SD) ** 2)


def first_order(data):
    fast_initial, fast_final, slow_initial, slow_final, days = data
    wf, uf = remaining(fast_initial, fast_final)
    ws, us = remaining(slow_initial, slow_final)
    fast, slow = 1 - wf, 1 - ws
    s = 1 - fast / H_FAST
    a = H_SLOW * fast / H_FAST
    left = a - slow
    with np.errstate(invalid="ignore", divide="ignore"):
        k = np.where((fast > 0) & (left > 0), np.log(a / left) / days, np.nan)
    per_a = -slow / (a * left * days)
    per_fast, per_slow = -per_a * H_SLOW / H_FAST, -1 / (left * days)
    u_bag = np.sqrt((per_fast * uf) ** 2 + (per_slow * us) ** 2 + (k / days * DAYS_U) ** 2)
    lot_fast, lot_slow = per_a * -a / H_FAST * U_FAST, per_a * a / H_SLOW * U_SLOW
    u_s = np.sqrt((uf / H_FAST) ** 2 + (fast / H_FAST**2 * U_FAST) ** 2)
    cov = per_fast * uf * uf / H_FAST + lot_fast * fast / H_FAST**2 * U_FAST
    return k, np.sqrt(u_bag**2 + lot_fast**2 + lot_slow**2), s, u_s, cov


def draw(rows, draws, seed):
    random = np.random.default_rng(seed)
    chemistry = np.random.default_rng(1)
    h_fast = H_FAST + U_FAST * chemistry.standard_normal(draws)
    h_slow = H_SLOW + U_SLOW * chemistry.standard_normal(draws)
    out = np.empty((len(rows), 5))
    for n, (fast_initial, fast_final, slow_initial, slow_final, days) in enumerate(rows):
        tare = random.normal(TARE, TARE_SD, (2, draws))
        read = RESOLUTION * (random.random((4, draws)) - 0.5)
        wf = (fast_final + read[0] - tare[0]) / (fast_initial + read[1] - tare[0])
        ws = (slow_final + read[2] - tare[1]) / (slow_initial + read[3] - tare[1])
        t = days + random.random(draws) + random.random(draws) - 1
        fast, slow = 1 - wf, 1 - ws
        s = 1 - fast / h_fast
        a = h_slow * fast / h_fast
        with np.errstate(invalid="ignore", divide="ignore"):
            k = np.log(a / (a - slow)) / t
        good = np.isfinite(k)
        kk, ss = k[good], s[good]
        c = np.cov(kk, ss)
        low, high = np.percentile(kk, [2.5, 97.5])
        np.percentile(s, [2.5, 97.5])
        out[n] = kk.mean(), np.sqrt(c[0, 0]), c[0, 1], low, high
    return out


def main():
    what, source, target = sys.argv[1:4]
    data = np.fromfile(source).reshape(5, -1)
    if what == "first-order":
        first_order(data[:, :1000])
        start = time.perf_counter()
        result = np.array(first_order(data))
        seconds = time.perf_counter() - start
    else:
        draws, processes = int(sys.argv[4]), int(sys.argv[5])
        parts = np.array_split(data.T, processes)
        start = time.perf_counter()
        with ProcessPoolExecutor(processes) as pool:
            result = np.concatenate(list(pool.map(draw, parts, [draws] * processes, range(7, 7 + processes)))).T
        seconds = time.perf_counter() - start
    result.tofile(target)
    print(json.dumps({"seconds": seconds, "numpy": np.__version__}))


if __name__ == "__main__":
    main()
