"""Completes the example bodies again with numpy and compares, measure by measure.

    python3 tests/outside/body_normal.py DUMP.json

DUMP.json is what `cargo run -p body --example dump_completion examples/bodies/*.kdl` writes: the figures (means, standard
deviations, correlations), the readings with their errors, and the completed bodies. The conditional normal distribution
is computed here by another way than in the program: the precision (inverse covariance) of all measures, to which each
reading adds the precision of its error. Source of the formula: the information form of the conditional normal, as in any
textbook on multivariate statistics (common knowledge). The joint table is also checked to be a covariance at all.
"""

import json
import sys

import numpy as np
from scipy import stats


def main(path):
    with open(path, encoding="utf-8") as file:
        dump = json.load(file)
    figures = dump["figures"]
    keys = figures["keys"]
    mean = np.array(figures["mean"])
    deviation = np.array(figures["deviation"])
    covariance = np.array(figures["correlation"]) * np.outer(deviation, deviation)
    lowest = np.linalg.eigvalsh(np.array(figures["correlation"])).min()
    assert lowest > 1e-4, f"the correlations are not positive definite: lowest eigenvalue {lowest}"
    # scipy refuses a covariance that is none.
    stats.multivariate_normal(mean, covariance)

    assert dump["bodies"], "no bodies in the dump"
    compared = 0
    for body in dump["bodies"]:
        precision = np.linalg.inv(covariance)
        pull = precision @ mean
        for known in body["known"]:
            i = keys.index(known["key"])
            precision[i, i] += known["error"] ** -2
            pull[i] += known["value"] * known["error"] ** -2
        after = np.linalg.inv(precision)
        expected = after @ pull
        for value in body["values"]:
            if value["measured"]:
                continue
            i = keys.index(value["key"])
            where = f"{body['name']}, {value['key']}"
            assert abs(value["value"] - expected[i]) < 1e-3, f"{where}: {value['value']} here {expected[i]}"
            assert abs(value["sd"] - np.sqrt(after[i, i])) < 1e-3, f"{where}: spread {value['sd']}"
            compared += 1
    print(f"{compared} estimates of {len(dump['bodies'])} bodies agree with numpy to 0.001")
    assert compared > 20, "too few estimates compared"


if __name__ == "__main__":
    main(sys.argv[1])
