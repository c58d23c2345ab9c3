//! Finding the number for which a function is zero, between two bounds; says why where there is none.

/// Why no solution was found between two bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoSolution {
    /// Lower bound and the function's value there.
    pub low: (f64, f64),
    /// Upper bound and the function's value there.
    pub high: (f64, f64),
}

impl NoSolution {
    /// The bound at which the function comes nearer to zero.
    pub fn nearest(&self) -> f64 {
        if self.low.1.abs() <= self.high.1.abs() {
            self.low.0
        } else {
            self.high.0
        }
    }
}

/// Solves f(x) = 0 between two bounds at which f has opposite signs, to a width in x; f should be continuous.
///
/// Uses the ITP method (Oliveira & Takahashi, ACM Transactions on Mathematical Software 47, 2020), which never needs more
/// steps than bisection. A value that is not finite counts as no solution.
pub fn bracketed(
    low: f64,
    high: f64,
    width: f64,
    mut f: impl FnMut(f64) -> f64,
) -> Result<f64, NoSolution> {
    let (at_low, at_high) = (f(low), f(high));
    if at_low == 0.0 {
        return Ok(low);
    }
    if at_high == 0.0 {
        return Ok(high);
    }
    if !(at_low.is_finite() && at_high.is_finite())
        || (at_low > 0.0) == (at_high > 0.0)
        || low >= high
    {
        return Err(NoSolution {
            low: (low, at_low),
            high: (high, at_high),
        });
    }
    let sign = if at_low < 0.0 { 1.0 } else { -1.0 };
    let k1 = 0.2 / (high - low);
    Ok(kurbo::common::solve_itp(
        |x| sign * f(x),
        low,
        high,
        width / 2.0,
        1,
        k1,
        sign * at_low,
        sign * at_high,
    ))
}

/// Solves f(x) = 0 from a start outwards in steps of one sign, and closes in once f changes its sign; for functions that are
/// only known near the start. Stops where f is not finite or the steps have gone beyond a reach.
pub fn stepping(
    start: f64,
    step: f64,
    reach: f64,
    width: f64,
    mut f: impl FnMut(f64) -> f64,
) -> Result<f64, NoSolution> {
    let first = f(start);
    let (mut from, mut value) = (start, first);
    while first.is_finite() && (from - start).abs() < reach {
        let to = from + step;
        let next = f(to);
        if !next.is_finite() {
            break;
        }
        if (next > 0.0) != (first > 0.0) {
            return bracketed(from.min(to), from.max(to), width, f);
        }
        (from, value) = (to, next);
    }
    Err(NoSolution {
        low: (start, first),
        high: (from, value),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_roots_of_rising_and_falling_functions() {
        assert!((bracketed(0.0, 2.0, 1e-9, |x| x * x - 2.0).unwrap() - 2f64.sqrt()).abs() < 1e-9);
        assert!((bracketed(0.0, 2.0, 1e-9, |x| 2.0 - x * x).unwrap() - 2f64.sqrt()).abs() < 1e-9);
        assert_eq!(bracketed(0.0, 2.0, 1e-9, |x| x), Ok(0.0));
    }

    #[test]
    fn steps_outwards_until_the_sign_changes() {
        let root = |x: f64| if x < 3.0 { x * x - 2.0 } else { f64::NAN };
        assert!((stepping(0.0, 0.5, 10.0, 1e-9, root).unwrap() - 2f64.sqrt()).abs() < 1e-9);
        let missing = stepping(2.0, 0.5, 10.0, 1e-9, root).unwrap_err();
        assert_eq!(missing.low.0, 2.0);
        assert_eq!(missing.high.0, 2.5);
    }

    #[test]
    fn says_how_near_it_came() {
        let missing = bracketed(1.0, 2.0, 1e-9, |x| x * x).unwrap_err();
        assert_eq!(missing.nearest(), 1.0);
        assert!(bracketed(0.0, 1.0, 1e-9, |_| f64::NAN).is_err());
    }
}
