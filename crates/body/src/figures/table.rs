// Written by scripts/survey/derive.py; rules and their sources stand there and in docs/sources-body.md.

use super::FromSurvey;

/// Women in the survey.
pub const WOMEN: usize = 1986;

/// Number of measures.
pub(crate) const MEASURES: usize = 34;

/// Mean of each measure (mm; degrees for the slope), in the order of `Measure::ALL`.
pub(crate) const MEAN: [f64; MEASURES] = [
    946.9,  // bust
    798.9,  // under-bust
    916.9,  // upper-chest
    800.6,  // waist
    933.0,  // high-hip
    1021.2, // hip
    371.2,  // neck-base
    130.4,  // shoulder-length
    21.0,   // shoulder-slope
    367.5,  // across-back
    342.0,  // across-front
    189.4,  // bust-point-width
    269.0,  // neck-to-bust-point
    395.6,  // back-waist-length
    421.6,  // front-waist-length
    196.0,  // side-length
    196.6,  // scye-depth
    424.0,  // armscye
    530.2,  // bust-front-arc
    432.3,  // waist-front-arc
    510.6,  // hip-front-arc
    97.6,   // waist-to-high-hip
    184.2,  // waist-to-hip
    568.9,  // waist-to-knee
    1019.9, // waist-to-floor
    257.6,  // crotch-depth
    616.1,  // thigh
    293.6,  // upper-arm
    256.2,  // elbow
    154.8,  // wrist
    568.6,  // arm-length
    326.2,  // shoulder-to-elbow
    561.1,  // head
    1628.5, // stature
];

/// Standard deviation of each measure over women, in the same order.
pub(crate) const DEVIATION: [f64; MEASURES] = [
    82.70, // bust
    76.56, // under-bust
    75.76, // upper-chest
    94.14, // waist
    80.82, // high-hip
    75.89, // hip
    19.66, // neck-base
    11.03, // shoulder-length
    3.00,  // shoulder-slope
    28.27, // across-back
    26.10, // across-front
    20.43, // bust-point-width
    24.51, // neck-to-bust-point
    24.55, // back-waist-length
    27.00, // front-waist-length
    25.84, // side-length
    17.59, // scye-depth
    32.03, // armscye
    50.06, // bust-front-arc
    51.63, // waist-front-arc
    39.24, // hip-front-arc
    15.35, // waist-to-high-hip
    21.98, // waist-to-hip
    29.99, // waist-to-knee
    50.39, // waist-to-floor
    23.47, // crotch-depth
    55.81, // thigh
    31.02, // upper-arm
    19.66, // elbow
    7.83,  // wrist
    30.51, // arm-length
    18.94, // shoulder-to-elbow
    19.36, // head
    64.20, // stature
];

/// Correlations below the diagonal, row by row: one row a measure, in the same order.
#[allow(
    clippy::approx_constant,
    reason = "a correlation that happens to look like a root"
)]
pub(crate) const CORRELATION: [f64; 561] = [
    // under-bust
    0.9206, // upper-chest
    0.9593, 0.9723, // waist
    0.8333, 0.9374, 0.9096, // high-hip
    0.8068, 0.8904, 0.8806, 0.9123, // hip
    0.7429, 0.8052, 0.8109, 0.7923, 0.9325, // neck-base
    0.6568, 0.6840, 0.7170, 0.6095, 0.6251, 0.6055, // shoulder-length
    0.1179, 0.1250, 0.1381, 0.0955, 0.1353, 0.1612, 0.1153, // shoulder-slope
    0.0000, 0.0000, 0.0000, 0.0000, 0.0000, 0.0000, 0.0000, 0.0000, // across-back
    0.5628, 0.5794, 0.6143, 0.5005, 0.5119, 0.4947, 0.5204, 0.3371, 0.0000,
    // across-front
    0.7001, 0.7154, 0.7478, 0.6423, 0.6396, 0.6041, 0.5881, 0.2673, 0.0000, 0.8641,
    // bust-point-width
    0.8094, 0.7452, 0.7765, 0.6745, 0.6530, 0.6013, 0.5316, 0.0955, 0.0000, 0.4555, 0.5667,
    // neck-to-bust-point
    0.4507, 0.4506, 0.4620, 0.4246, 0.4264, 0.4057, 0.3644, 0.2234, 0.0000, 0.3724, 0.4031, 0.3648,
    // back-waist-length
    0.3378, 0.3795, 0.3785, 0.3816, 0.3773, 0.3542, 0.3865, 0.1902, 0.0000, 0.3067, 0.3313, 0.2734,
    0.4592, // front-waist-length
    0.4258, 0.3743, 0.3865, 0.3470, 0.3431, 0.3220, 0.3514, 0.1645, 0.0000, 0.2788, 0.3159, 0.3447,
    0.4443, 0.9003, // side-length
    0.2220, 0.2347, 0.2335, 0.2374, 0.2233, 0.2001, 0.1863, 0.0185, 0.0000, 0.1581, 0.1842, 0.1797,
    0.2052, 0.7071, 0.6507, // scye-depth
    0.1454, 0.1849, 0.1853, 0.1840, 0.1986, 0.2004, 0.2659, 0.2382, 0.0000, 0.1958, 0.1918, 0.1177,
    0.3396, 0.3571, 0.3007, -0.3414, // armscye
    0.5843, 0.6358, 0.6524, 0.5983, 0.6341, 0.6308, 0.5774, 0.2414, 0.0000, 0.5189, 0.5646, 0.4729,
    0.4320, 0.3981, 0.3488, -0.0755, 0.6667, // bust-front-arc
    0.9252, 0.8517, 0.8875, 0.7709, 0.7464, 0.6873, 0.6077, 0.1091, 0.0000, 0.5207, 0.6477, 0.7488,
    0.4169, 0.3125, 0.3940, 0.2053, 0.1345, 0.5405, // waist-front-arc
    0.8205, 0.9231, 0.8956, 0.9847, 0.8983, 0.7801, 0.6002, 0.0940, 0.0000, 0.4929, 0.6325, 0.6641,
    0.4181, 0.3758, 0.3417, 0.2338, 0.1812, 0.5891, 0.7591, // hip-front-arc
    0.7184, 0.7786, 0.7841, 0.7661, 0.9017, 0.9670, 0.5855, 0.1559, 0.0000, 0.4783, 0.5842, 0.5814,
    0.3923, 0.3425, 0.3114, 0.1935, 0.1938, 0.6100, 0.6646, 0.7544,
    // waist-to-high-hip
    -0.0649, -0.0901, -0.0739, -0.1266, -0.0315, 0.0488, 0.0190, 0.1093, 0.0000, 0.0157, -0.0156,
    -0.0525, 0.0774, 0.0859, 0.0809, 0.0456, 0.0529, -0.0122, -0.0600, -0.1246, 0.0472,
    // waist-to-hip
    -0.0855, -0.1188, -0.0974, -0.1668, -0.0415, 0.0644, 0.0250, 0.1441, 0.0000, 0.0207, -0.0205,
    -0.0692, 0.1021, 0.1132, 0.1066, 0.0602, 0.0697, -0.0161, -0.0791, -0.1643, 0.0622, 0.7587,
    // waist-to-knee
    0.1223, 0.1216, 0.1409, 0.0781, 0.1882, 0.2694, 0.2431, 0.3390, 0.0000, 0.1923, 0.1741, 0.0990,
    0.2302, 0.2880, 0.2552, 0.1540, 0.1758, 0.2007, 0.1131, 0.0769, 0.2605, 0.3021, 0.3982,
    // waist-to-floor
    0.1821, 0.1962, 0.2141, 0.1559, 0.2558, 0.3252, 0.3256, 0.3599, 0.0000, 0.2548, 0.2403, 0.1474,
    0.2404, 0.3467, 0.3014, 0.1950, 0.1974, 0.2619, 0.1684, 0.1535, 0.3144, 0.2352, 0.3101, 0.8189,
    // crotch-depth
    0.1653, 0.1459, 0.1614, 0.1111, 0.1858, 0.2379, 0.1641, 0.1819, 0.0000, 0.1409, 0.1478, 0.1338,
    0.2001, 0.1628, 0.1651, 0.0927, 0.0912, 0.1352, 0.1529, 0.1094, 0.2300, 0.2865, 0.3776, 0.3967,
    0.3079, // thigh
    0.6924, 0.7614, 0.7667, 0.7493, 0.8785, 0.9396, 0.5718, 0.1607, 0.0000, 0.4608, 0.5666, 0.5605,
    0.3564, 0.2883, 0.2524, 0.1604, 0.1668, 0.6226, 0.6406, 0.7379, 0.9085, 0.0051, 0.0068, 0.2345,
    0.2930, 0.1986, // upper-arm
    0.7400, 0.7875, 0.8077, 0.7418, 0.7871, 0.7836, 0.6240, 0.1136, 0.0000, 0.4801, 0.5935, 0.5989,
    0.3378, 0.2779, 0.2527, 0.1565, 0.1580, 0.7313, 0.6846, 0.7304, 0.7577, -0.0746, -0.0983,
    0.1355, 0.2062, 0.1145, 0.8090, // elbow
    0.6017, 0.6368, 0.6583, 0.5883, 0.6402, 0.6498, 0.6032, 0.1563, 0.0000, 0.4161, 0.4999, 0.4870,
    0.2890, 0.2716, 0.2455, 0.1460, 0.1646, 0.5940, 0.5567, 0.5793, 0.6284, -0.0202, -0.0266,
    0.2187, 0.2908, 0.1442, 0.6700, 0.7719, // wrist
    0.5248, 0.5442, 0.5696, 0.4869, 0.5431, 0.5614, 0.6102, 0.2672, 0.0000, 0.4163, 0.4691, 0.4248,
    0.3129, 0.3730, 0.3420, 0.2026, 0.2231, 0.5236, 0.4855, 0.4794, 0.5429, 0.1060, 0.1397, 0.3938,
    0.4690, 0.2452, 0.5393, 0.5955, 0.6748, // arm-length
    0.2328, 0.2453, 0.2618, 0.2081, 0.2802, 0.3252, 0.3450, 0.3136, 0.0000, 0.2704, 0.2670, 0.1884,
    0.1976, 0.3140, 0.2786, 0.1648, 0.1963, 0.2809, 0.2154, 0.2049, 0.3144, 0.1114, 0.1468, 0.6305,
    0.7877, 0.1371, 0.2966, 0.2364, 0.2941, 0.4218, // shoulder-to-elbow
    0.2653, 0.2776, 0.2924, 0.2441, 0.3060, 0.3413, 0.3530, 0.2506, 0.0000, 0.2768, 0.2818, 0.2147,
    0.2192, 0.3442, 0.3104, 0.1935, 0.1962, 0.2890, 0.2454, 0.2404, 0.3300, 0.1143, 0.1506, 0.5809,
    0.7170, 0.1505, 0.2950, 0.2489, 0.2891, 0.4089, 0.8052, // head
    0.2076, 0.2301, 0.2435, 0.1998, 0.2469, 0.2730, 0.3467, 0.1819, 0.0000, 0.2142, 0.2241, 0.1680,
    0.1139, 0.1123, 0.0870, 0.0470, 0.0877, 0.2341, 0.1921, 0.1967, 0.2640, -0.0288, -0.0380,
    0.2457, 0.3179, 0.0380, 0.3104, 0.2713, 0.2927, 0.3296, 0.3352, 0.2574, // stature
    0.2596, 0.2712, 0.2912, 0.2262, 0.3188, 0.3788, 0.4107, 0.3687, 0.0000, 0.3015, 0.2974, 0.2101,
    0.3296, 0.5215, 0.4671, 0.3176, 0.2614, 0.3262, 0.2401, 0.2228, 0.3663, 0.2600, 0.3427, 0.8016,
    0.9120, 0.3431, 0.3165, 0.2457, 0.3260, 0.5432, 0.7663, 0.7186, 0.3145,
];

/// How a survey row gives a measure: key, constant, shares of columns, spread of what the rule does not know.
pub(crate) const FROM_SURVEY: &[FromSurvey] = &[
    FromSurvey {
        key: "bust",
        constant: 0.0,
        columns: &[("chestcircumference", 1.0)],
        spread: 0.0,
    },
    FromSurvey {
        key: "waist",
        constant: 0.0,
        columns: &[("waistcircumference", 0.93)],
        spread: 15.0,
    },
    FromSurvey {
        key: "hip",
        constant: 0.0,
        columns: &[("buttockcircumference", 1.0)],
        spread: 0.0,
    },
    FromSurvey {
        key: "neck-base",
        constant: 0.0,
        columns: &[("neckcircumferencebase", 1.0)],
        spread: 0.0,
    },
    FromSurvey {
        key: "shoulder-length",
        constant: -5.0,
        columns: &[("shoulderlength", 1.0)],
        spread: 4.0,
    },
    FromSurvey {
        key: "across-back",
        constant: -17.0,
        columns: &[("interscyei", 0.5), ("interscyeii", 0.5)],
        spread: 8.0,
    },
    FromSurvey {
        key: "back-waist-length",
        constant: 0.0,
        columns: &[
            ("waistbacklength", 1.0),
            ("waistheightomphalion", 0.65),
            ("tenthribheight", -0.325),
            ("iliocristaleheight", -0.325),
        ],
        spread: 10.0,
    },
    FromSurvey {
        key: "scye-depth",
        constant: 40.0,
        columns: &[("cervicaleheight", 1.0), ("axillaheight", -1.0)],
        spread: 10.0,
    },
    FromSurvey {
        key: "waist-to-hip",
        constant: 8.0,
        columns: &[
            ("waistheightomphalion", 0.35),
            ("tenthribheight", 0.325),
            ("iliocristaleheight", 0.325),
            ("buttockheight", -1.0),
        ],
        spread: 10.0,
    },
    FromSurvey {
        key: "waist-to-knee",
        constant: 8.0,
        columns: &[
            ("waistheightomphalion", 0.35),
            ("tenthribheight", 0.325),
            ("iliocristaleheight", 0.325),
            ("kneeheightmidpatella", -1.0),
        ],
        spread: 12.0,
    },
    FromSurvey {
        key: "waist-to-floor",
        constant: 10.0,
        columns: &[
            ("waistheightomphalion", 0.35),
            ("tenthribheight", 0.325),
            ("iliocristaleheight", 0.325),
        ],
        spread: 12.0,
    },
    FromSurvey {
        key: "crotch-depth",
        constant: 30.0,
        columns: &[
            ("waistheightomphalion", 0.35),
            ("tenthribheight", 0.325),
            ("iliocristaleheight", 0.325),
            ("crotchheight", -1.0),
        ],
        spread: 15.0,
    },
    FromSurvey {
        key: "thigh",
        constant: 0.0,
        columns: &[("thighcircumference", 1.0)],
        spread: 0.0,
    },
    FromSurvey {
        key: "upper-arm",
        constant: -12.0,
        columns: &[("bicepscircumferenceflexed", 1.0)],
        spread: 4.0,
    },
    FromSurvey {
        key: "elbow",
        constant: 0.0,
        columns: &[("forearmcircumferenceflexed", 0.97)],
        spread: 8.0,
    },
    FromSurvey {
        key: "wrist",
        constant: 0.0,
        columns: &[("wristcircumference", 1.0)],
        spread: 0.0,
    },
    FromSurvey {
        key: "arm-length",
        constant: 25.0,
        columns: &[("sleeveoutseam", 1.0)],
        spread: 8.0,
    },
    FromSurvey {
        key: "shoulder-to-elbow",
        constant: 15.0,
        columns: &[("acromionradialelength", 1.0)],
        spread: 8.0,
    },
    FromSurvey {
        key: "head",
        constant: 0.0,
        columns: &[("headcircumference", 1.0)],
        spread: 0.0,
    },
    FromSurvey {
        key: "stature",
        constant: 0.0,
        columns: &[("stature", 1.0)],
        spread: 0.0,
    },
];
