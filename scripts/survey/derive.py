"""Derives the joint normal of our measures from the survey and the rules, and writes it as a Rust table.

    python3 scripts/survey/derive.py SURVEY.csv | rustfmt --edition 2024 > crates/body/src/figures/table.rs

SURVEY.csv holds the women of the 2012 Anthropometric Survey of US Army Personnel (ANSUR II, public data): lines that
begin with # are comments, then one head line and one line a woman, in millimetres. The file itself is not part of this
project; only the means, spreads and correlations below are.

Every measure is a linear rule: a constant, shares of survey columns, shares of other measures, and a spread of its own
for what the rule does not know. Mean and covariance of linear rules are exact, so no row is ever invented. Where the
figures of a rule come from stands beside it and in docs/sources-body.md. Needs numpy.
"""

import csv
import sys

import numpy as np

# Height of the natural waist. The survey taped at the navel; ISO puts the waist midway between the lowest rib and the top
# of the hip bone (46 mm above the navel in this survey), the natural waist is taken 20 to 50 mm above the navel (no
# source). These shares put it 30 mm above on average, and do not let it sink where a heavier belly lowers the navel.
WAIST_HEIGHT = {"waistheightomphalion": 0.35, "tenthribheight": 0.325, "iliocristaleheight": 0.325}
NAVEL_TO_WAIST = {"waistheightomphalion": -0.65, "tenthribheight": 0.325, "iliocristaleheight": 0.325}


class Rule:
    """constant + shares of columns + shares of measures, and a spread of its own (mm, degrees for the slope)."""

    def __init__(self, columns=None, measures=None, constant=0.0, spread=0.0, mean=None):
        self.columns = columns or {}
        self.measures = measures or {}
        self.constant = constant
        self.spread = spread
        # Where given, the constant is chosen so that the survey's mean comes out as this.
        self.mean = mean


def below(heights, name):
    """From one height down to a column's height."""
    return {**heights, name: heights.get(name, 0.0) - 1.0}


def column(name, share=1.0, constant=0.0, spread=0.0):
    return Rule({name: share}, constant=constant, spread=spread)


def rules(bust_by_frame):
    """The rules in the order of the program's own list of measures' keys; later ones may use earlier ones."""
    return {
        # --- taped in the survey, or nearly so -----------------------------------------------------------------
        "bust": column("chestcircumference"),
        "hip": column("buttockcircumference"),
        "neck-base": column("neckcircumferencebase"),
        "wrist": column("wristcircumference"),
        "head": column("headcircumference"),
        "thigh": column("thighcircumference"),
        "stature": column("stature"),
        # Narrower than at the navel; by how much depends on the figure.
        "waist": column("waistcircumference", 0.93, spread=15.0),
        # The survey's shoulder runs to the bone's outer tip, in a hollow; textbook cells are 8 mm shorter.
        "shoulder-length": column("shoulderlength", constant=-5.0, spread=4.0),
        # The survey's two arcs, at armpit level and at the middle of the armhole, bracket where a dressmaker tapes; both
        # run to the arm's outline, and a sleeve is set further in. Textbook cells: 354 at bust 920, 374 at bust 1000.
        "across-back": Rule({"interscyei": 0.5, "interscyeii": 0.5}, constant=-17.0, spread=8.0),
        # The survey's arm is bent and tensed, which adds 10 to 25 mm.
        "upper-arm": column("bicepscircumferenceflexed", constant=-12.0, spread=4.0),
        "elbow": column("forearmcircumferenceflexed", 0.97, spread=8.0),
        # The survey's arm hangs straight; the bent elbow adds.
        "arm-length": column("sleeveoutseam", constant=25.0, spread=8.0),
        "shoulder-to-elbow": column("acromionradialelength", constant=15.0, spread=8.0),
        "back-waist-length": Rule(
            {"waistbacklength": 1.0, **{name: -share for name, share in NAVEL_TO_WAIST.items()}}, spread=10.0
        ),
        # Heights differ straight down; a tape follows the back, and a ruler held under both arms lies a good finger below
        # the fold at which the survey measures. With 40 an underarm 25 below the ruler comes to 222 at bust 920; published
        # drafts have 223 (B/6 + 7 cm) and 228 (chest/6 + 3 in).
        "scye-depth": Rule({"cervicaleheight": 1, "axillaheight": -1}, constant=40.0, spread=10.0),
        # A tape over the side of the hip is longer than the difference of heights.
        "waist-to-hip": Rule(below(WAIST_HEIGHT, "buttockheight"), constant=8.0, spread=10.0),
        "waist-to-knee": Rule(below(WAIST_HEIGHT, "kneeheightmidpatella"), constant=8.0, spread=12.0),
        "waist-to-floor": Rule(WAIST_HEIGHT, constant=10.0, spread=12.0),
        # Sitting spreads the seat: the side is longer than waist height less crotch height.
        "crotch-depth": Rule(below(WAIST_HEIGHT, "crotchheight"), constant=30.0, spread=15.0),
        # --- not in the survey ---------------------------------------------------------------------------------
        # Bust less upper chest: 30 for the survey's mean woman, more by 0.5 of what her bust has beyond the bust that
        # her frame (back, upper arm, waist, hip, neck) leads one to expect.
        "upper-chest": Rule(
            measures={
                "bust": 1 - 0.5,
                **{measure: 0.5 * share for measure, share in bust_by_frame.items()},
            },
            mean=lambda m: m["bust"] - 30.0,
            spread=12.0,
        ),
        "under-bust": Rule(measures={"upper-chest": 0.7, "waist": 0.25}, mean=lambda m: m["bust"] - 148.0, spread=15.0),
        "across-front": Rule(
            measures={"across-back": 0.6, "upper-chest": 0.12}, mean=lambda m: 342.0, spread=11.0
        ),
        "bust-point-width": Rule(measures={"bust": 0.2}, spread=12.0),
        # Nape to bust level straight down, made longer by the way forward over the breast.
        "neck-to-bust-point": Rule(
            {"cervicaleheight": 0.9, "chestheight": -0.9},
            {"bust": 0.05},
            mean=lambda m: 269.0,
            spread=8.0,
        ),
        "front-waist-length": Rule(
            measures={"back-waist-length": 1, "bust": 0.32, "upper-chest": -0.32},
            mean=lambda m: m["back-waist-length"] + 26.0,
            spread=9.0,
        ),
        "side-length": Rule(measures={"back-waist-length": 1, "scye-depth": -1}, constant=-3.0, spread=8.0),
        "armscye": Rule(
            measures={"upper-arm": 0.6, "scye-depth": 1.0, "across-back": 0.15},
            mean=lambda m: 424.0,
            spread=12.0,
        ),
        "shoulder-slope": Rule(constant=21.0, spread=3.0),
        "high-hip": Rule(measures={"waist": 0.4, "hip": 0.6}, spread=18.0),
        "waist-to-high-hip": Rule(measures={"waist-to-hip": 0.53}, spread=10.0),
        "bust-front-arc": Rule(measures={"bust": 0.56}, spread=19.0),
        "waist-front-arc": Rule(measures={"waist": 0.54}, spread=9.0),
        "hip-front-arc": Rule(measures={"hip": 0.50}, spread=10.0),
    }


FRAME = ["across-back", "upper-arm", "waist", "hip", "neck-base"]


class Joint:
    """Mean and covariance of all measures, grown rule by rule."""

    def __init__(self, head, table):
        self.head = head
        self.column_mean = table.mean(axis=0)
        self.column_covariance = np.cov(table, rowvar=False)
        self.keys, self.shares, self.own, self.constants = [], [], [], []

    def add(self, key, rule):
        share = np.zeros(len(self.head))
        own = np.zeros(64)
        constant = rule.constant
        for name, factor in rule.columns.items():
            share[self.head.index(name)] += factor
        for other, factor in rule.measures.items():
            i = self.keys.index(other)
            share += factor * self.shares[i]
            own += factor * self.own[i]
            constant += factor * self.constants[i]
        if rule.mean is not None:
            constant = rule.mean(self.means()) - share @ self.column_mean
        own[len(self.keys)] += rule.spread
        self.keys.append(key)
        self.shares.append(share)
        self.own.append(own)
        self.constants.append(constant)

    def means(self):
        return {
            key: constant + share @ self.column_mean
            for key, share, constant in zip(self.keys, self.shares, self.constants)
        }

    def covariance(self):
        shares, own = np.array(self.shares), np.array(self.own)
        return shares @ self.column_covariance @ shares.T + own @ own.T


def read(path):
    with open(path, encoding="utf-8", newline="") as file:
        lines = list(csv.reader(line for line in file if not line.startswith("#")))
    return lines[0], np.array(lines[1:], float)


def bust_by_frame(joint):
    """How the bust follows from the frame, by least squares over the survey: share of each measure of the frame."""
    covariance = joint.covariance()
    frame = [joint.keys.index(key) for key in FRAME]
    bust = joint.keys.index("bust")
    shares = np.linalg.solve(covariance[np.ix_(frame, frame)], covariance[frame, bust])
    return dict(zip(FRAME, shares))


def derive(path):
    head, table = read(path)
    first = Joint(head, table)
    for key, rule in rules({}).items():
        if not rule.measures:
            first.add(key, rule)
    joint = Joint(head, table)
    for key, rule in rules(bust_by_frame(first)).items():
        joint.add(key, rule)
    return joint, rules({}), len(table)


# The order of the program's list of measures.
ORDER = """bust under-bust upper-chest waist high-hip hip neck-base shoulder-length shoulder-slope across-back across-front
bust-point-width neck-to-bust-point back-waist-length front-waist-length side-length scye-depth armscye bust-front-arc
waist-front-arc hip-front-arc waist-to-high-hip waist-to-hip waist-to-knee waist-to-floor crotch-depth thigh upper-arm
elbow wrist arm-length shoulder-to-elbow head stature""".split()


def written(joint, plain, women):
    """The Rust table."""
    places = [joint.keys.index(key) for key in ORDER]
    means = joint.means()
    covariance = joint.covariance()[np.ix_(places, places)]
    sds = np.sqrt(np.diag(covariance))
    correlation = covariance / np.outer(sds, sds)
    out = [
        "// Written by scripts/survey/derive.py; rules and their sources stand there and in docs/sources-body.md.",
        "",
        "use super::FromSurvey;",
        "",
        f"/// Women in the survey.\npub const WOMEN: usize = {women};",
        "",
        f"/// Number of measures.\npub(crate) const MEASURES: usize = {len(ORDER)};",
        "",
        "/// Mean of each measure (mm; degrees for the slope), in the order of `Measure::ALL`.",
        "pub(crate) const MEAN: [f64; MEASURES] = [",
        *(f"    {means[key]:.1f}, // {key}" for key in ORDER),
        "];",
        "",
        "/// Standard deviation of each measure over women, in the same order.",
        "pub(crate) const DEVIATION: [f64; MEASURES] = [",
        *(f"    {sd:.2f}, // {key}" for key, sd in zip(ORDER, sds)),
        "];",
        "",
        "/// Correlations below the diagonal, row by row: one row a measure, in the same order.",
        '#[allow(clippy::approx_constant, reason = "a correlation that happens to look like a root")]',
        f"pub(crate) const CORRELATION: [f64; {len(ORDER) * (len(ORDER) - 1) // 2}] = [",
    ]
    for i in range(1, len(ORDER)):
        out.append(f"    // {ORDER[i]}")
        out.append("    " + " ".join(f"{correlation[i, j]:.4f}," for j in range(i)))
    out += [
        "];",
        "",
        "/// How a survey row gives a measure: key, constant, shares of columns, spread of what the rule does not know.",
        "pub(crate) const FROM_SURVEY: &[FromSurvey] = &[",
    ]
    for key in ORDER:
        rule = plain[key]
        if rule.columns and not rule.measures:
            columns = ", ".join(f'("{name}", {float(share)})' for name, share in rule.columns.items())
            out.append(
                f'    FromSurvey {{ key: "{key}", constant: {float(rule.constant)}, columns: &[{columns}], spread: {rule.spread} }},'
            )
    out.append("];")
    return "\n".join(out) + "\n"


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: derive.py SURVEY.csv")
    sys.stdout.write(written(*derive(sys.argv[1])))
