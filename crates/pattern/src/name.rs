//! Names that survive: what was cut keeps the name of the whole as its root.
//!
//! `side` becomes `side/upper` and `side/lower`, `front` becomes `front/centre` and `front/side`; whoever names the whole
//! means its parts, in the order in which the whole was walked. Knows no shapes. Invariant: where something of exactly the
//! asked name exists, it alone is meant.

/// Which stretch of the edge that it was cut from an edge is: shares of the root's length as sewn, from its first corner,
/// at the time it was cut. They put parts in order; lengths are always measured anew.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Where the part begins, from 0.
    pub from: f64,
    /// Where it ends, to 1.
    pub to: f64,
}

impl Part {
    /// An edge that was never cut.
    pub const WHOLE: Self = Self { from: 0.0, to: 1.0 };

    /// The two parts on either side of a share of this one.
    pub fn cut_at(self, share: f64) -> [Self; 2] {
        let middle = self.from + (self.to - self.from) * share.clamp(0.0, 1.0);
        [
            Self {
                from: self.from,
                to: middle,
            },
            Self {
                from: middle,
                to: self.to,
            },
        ]
    }
}

impl Default for Part {
    fn default() -> Self {
        Self::WHOLE
    }
}

/// Whether something of this name is meant by, or is a part of, what is asked for.
pub fn answers_to(name: &str, asked: &str) -> bool {
    name.strip_prefix(asked)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
}

/// Name of a part: `side` and `upper` give `side/upper`.
pub fn part_of(root: &str, word: &str) -> String {
    format!("{root}/{word}")
}

/// What a part was cut from: `side/upper/front` gives `side`; a whole is its own root.
pub fn root(name: &str) -> &str {
    name.split('/').next().unwrap_or(name)
}

/// Name of what is derived from a piece: `front` and `lining` give `front-lining`, `front/centre` gives `front-lining/centre`;
/// whoever names the whole finds the parts here too.
pub fn derived(name: &str, word: &str) -> String {
    let root = root(name);
    format!("{root}-{word}{}", &name[root.len()..])
}

/// Name of the corner between two edges, in the order in which the outline meets them: `armhole+side`.
pub fn corner(before: &str, after: &str) -> String {
    format!("{before}+{after}")
}

/// A name that is not taken: the name itself, or with the first free number behind it.
pub fn free_name<'a>(wanted: &str, taken: impl Iterator<Item = &'a str>) -> String {
    let taken: Vec<&str> = taken.collect();
    let is_free = |name: &str| !taken.contains(&name);
    if is_free(wanted) {
        return wanted.into();
    }
    (2..=taken.len() + 2)
        .map(|number| format!("{wanted}-{number}"))
        .find(|name| is_free(name))
        .unwrap_or_else(|| wanted.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_answer_to_the_whole_and_to_nothing_else() {
        assert!(answers_to("side/upper", "side") && answers_to("side", "side"));
        assert!(answers_to("side/upper/front", "side/upper"));
        assert!(!answers_to("side", "side/upper") && !answers_to("sides", "side"));
        assert_eq!(root("side/upper/front"), "side");
    }

    #[test]
    fn parts_of_parts_stay_in_order() {
        let [upper, lower] = Part::WHOLE.cut_at(0.25);
        let [first, second] = lower.cut_at(0.5);
        assert_eq!(
            [upper.to, first.from, first.to, second.from],
            [0.25, 0.25, 0.625, 0.625]
        );
    }

    #[test]
    fn a_taken_name_is_numbered() {
        let taken = ["dart", "dart-2"];
        assert_eq!(free_name("dart", taken.into_iter()), "dart-3");
        assert_eq!(free_name("pleat", taken.into_iter()), "pleat");
    }
}
