//! The conditional normal distribution: what some measures say about others.
//!
//! Plain linear algebra on a few dozen numbers, written out so that every machine gives the same bits. Knows no measure.
//! Invariant: covariances are symmetric, and with the readings' own errors added they are positive definite.

use std::ops::Index;

/// A square table of numbers.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Square {
    size: usize,
    numbers: Vec<f64>,
}

impl Square {
    pub(crate) fn zero(size: usize) -> Self {
        Self {
            size,
            numbers: vec![0.0; size * size],
        }
    }

    /// Sets a number and the one mirrored at the diagonal.
    pub(crate) fn set_both(&mut self, i: usize, j: usize, value: f64) {
        self.numbers[i * self.size + j] = value;
        self.numbers[j * self.size + i] = value;
    }

    /// The rows and columns in these places.
    fn part(&self, places: &[usize]) -> Self {
        let mut part = Self::zero(places.len());
        for (i, &row) in places.iter().enumerate() {
            for (j, &column) in places[..=i].iter().enumerate() {
                part.set_both(i, j, self[(row, column)]);
            }
        }
        part
    }

    /// The lower triangle L with L·Lᵀ = this (Cholesky), or `None` where this is not positive definite.
    pub(crate) fn root(&self) -> Option<Root> {
        let mut root = Self::zero(self.size);
        for i in 0..self.size {
            for j in 0..=i {
                let rest: f64 = (0..j).map(|k| root[(i, k)] * root[(j, k)]).sum();
                let left = self[(i, j)] - rest;
                root.numbers[i * self.size + j] = if i == j {
                    if left <= 0.0 {
                        return None;
                    }
                    left.sqrt()
                } else {
                    left / root[(j, j)]
                };
            }
        }
        Some(Root(root))
    }
}

impl Index<(usize, usize)> for Square {
    type Output = f64;

    fn index(&self, (i, j): (usize, usize)) -> &f64 {
        &self.numbers[i * self.size + j]
    }
}

/// The lower triangle of a Cholesky decomposition.
pub(crate) struct Root(Square);

impl Root {
    /// L·v.
    pub(crate) fn times(&self, v: &[f64]) -> Vec<f64> {
        (0..self.0.size)
            .map(|i| (0..=i).map(|j| self.0[(i, j)] * v[j]).sum())
            .collect()
    }

    /// The x with L·Lᵀ·x = b.
    fn solve(&self, b: &[f64]) -> Vec<f64> {
        let n = self.0.size;
        let mut x = b.to_vec();
        for i in 0..n {
            let known: f64 = (0..i).map(|j| self.0[(i, j)] * x[j]).sum();
            x[i] = (x[i] - known) / self.0[(i, i)];
        }
        for i in (0..n).rev() {
            let known: f64 = (i + 1..n).map(|j| self.0[(j, i)] * x[j]).sum();
            x[i] = (x[i] - known) / self.0[(i, i)];
        }
        x
    }
}

/// A reading: which variable, its value, and the variance of the reading about the true value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Known {
    pub(crate) place: usize,
    pub(crate) value: f64,
    pub(crate) variance: f64,
}

/// What is expected of one variable.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Expected {
    pub(crate) mean: f64,
    pub(crate) deviation: f64,
    /// By how many of its own deviations over the whole population each reading would move the mean, if the reading
    /// were one deviation higher: how much weight each reading has.
    pub(crate) weights: Vec<f64>,
}

/// A joint normal distribution.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Normal {
    pub(crate) mean: Vec<f64>,
    pub(crate) covariance: Square,
}

impl Normal {
    /// What every variable is expected to be after these readings.
    pub(crate) fn given(&self, known: &[Known]) -> Vec<Expected> {
        let root = self.root_of(known);
        let beyond: Vec<f64> = known.iter().map(|k| k.value - self.mean[k.place]).collect();
        (0..self.mean.len())
            .map(|place| self.expected(place, known, &root, &beyond))
            .collect()
    }

    /// What each reading would be expected to be by all the others; the deviation counts the reading's own error too.
    pub(crate) fn leave_one_out(&self, known: &[Known]) -> Vec<Expected> {
        let mut others = known.to_vec();
        (0..known.len())
            .map(|i| {
                let left_out = others.remove(i);
                let expected = self.expected_reading(left_out, &others);
                others.insert(i, left_out);
                expected
            })
            .collect()
    }

    /// What one reading would be expected to be by others; the deviation counts the reading's own error too.
    pub(crate) fn expected_reading(&self, reading: Known, others: &[Known]) -> Expected {
        let root = self.root_of(others);
        let beyond: Vec<f64> = others
            .iter()
            .map(|k| k.value - self.mean[k.place])
            .collect();
        let mut expected = self.expected(reading.place, others, &root, &beyond);
        expected.deviation = (expected.deviation * expected.deviation + reading.variance).sqrt();
        expected
    }

    fn root_of(&self, known: &[Known]) -> Root {
        let places: Vec<usize> = known.iter().map(|k| k.place).collect();
        let mut covariance = self.covariance.part(&places);
        for (i, k) in known.iter().enumerate() {
            let variance = covariance[(i, i)] + k.variance;
            covariance.set_both(i, i, variance);
        }
        covariance
            .root()
            .expect("every reading has an error of its own, so that the table is positive definite")
    }

    fn expected(&self, place: usize, known: &[Known], root: &Root, beyond: &[f64]) -> Expected {
        let shared: Vec<f64> = known
            .iter()
            .map(|k| self.covariance[(place, k.place)])
            .collect();
        let gains = root.solve(&shared);
        let own = self.covariance[(place, place)];
        let explained: f64 = gains.iter().zip(&shared).map(|(g, s)| g * s).sum();
        let weights = gains
            .iter()
            .zip(known)
            .map(|(gain, k)| gain * (self.covariance[(k.place, k.place)] / own).sqrt());
        Expected {
            mean: self.mean[place] + gains.iter().zip(beyond).map(|(g, b)| g * b).sum::<f64>(),
            deviation: (own - explained).max(0.0).sqrt(),
            weights: weights.collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pair() -> Normal {
        let mut covariance = Square::zero(2);
        covariance.set_both(0, 0, 4.0);
        covariance.set_both(1, 1, 9.0);
        covariance.set_both(0, 1, 3.0);
        Normal {
            mean: vec![10.0, 20.0],
            covariance,
        }
    }

    #[test]
    fn a_pair_follows_the_regression_line() {
        // Textbook formulas: slope = covariance / variance, remaining variance = own − covariance² / variance.
        let known = [Known {
            place: 0,
            value: 12.0,
            variance: 0.0,
        }];
        let expected = &pair().given(&known)[1];
        assert!((expected.mean - 21.5).abs() < 1e-12);
        assert!((expected.deviation - (9.0_f64 - 9.0 / 4.0).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_reading_with_an_error_counts_for_less() {
        let known = [Known {
            place: 0,
            value: 12.0,
            variance: 4.0,
        }];
        let expected = pair().given(&known);
        assert!((expected[1].mean - 20.75).abs() < 1e-12);
        assert!((expected[0].mean - 11.0).abs() < 1e-12);
    }

    #[test]
    fn a_root_times_itself_is_the_table() {
        let covariance = crate::figures::joint().covariance;
        let root = covariance
            .root()
            .expect("the survey's table is positive definite");
        for place in 0..crate::Measure::COUNT {
            let mut unit = vec![0.0; crate::Measure::COUNT];
            unit[place] = 1.0;
            let solved = root.solve(&unit);
            for i in 0..crate::Measure::COUNT {
                let back: f64 = (0..solved.len())
                    .map(|j| covariance[(i, j)] * solved[j])
                    .sum();
                assert!((back - unit[i]).abs() < 1e-8, "{i} {place} {back}");
            }
        }
    }
}
