//! The word that somebody probably meant.
//!
//! Knows no file and no garment; it compares letters. Invariant: a word is offered only where it is close enough to be
//! taken for a slip of the pen.

/// The allowed word nearest to the one written, where one is near: at most a third of its letters differ.
pub fn nearest<'a>(word: &str, allowed: &[&'a str]) -> Option<&'a str> {
    let word = word.to_lowercase().replace('_', "-");
    allowed
        .iter()
        .map(|candidate| (distance(&word, candidate), *candidate))
        .min_by_key(|(distance, _)| *distance)
        .filter(|(distance, candidate)| *distance <= (candidate.chars().count() / 3).max(1))
        .map(|(_, candidate)| candidate)
}

/// How many letters must be put in, taken out, exchanged or swapped with their neighbour to turn one word into the
/// other (the restricted edit distance of Damerau and Levenshtein).
fn distance(a: &str, b: &str) -> usize {
    // Longer words are no slips of the pen, and the table below grows with the product of the lengths.
    const LONGEST: usize = 60;
    let a: Vec<char> = a.chars().take(LONGEST).collect();
    let b: Vec<char> = b.chars().take(LONGEST).collect();
    let mut rows = vec![(0..=b.len()).collect::<Vec<_>>()];
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let exchange = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut least = exchange.min(rows[i - 1][j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                least = least.min(rows[i - 2][j - 2] + 1);
            }
            row.push(least);
        }
        rows.push(row);
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_pen_find_their_word() {
        let allowed = ["bust", "under-bust", "waist", "waist-to-hip", "hip"];
        for (written, meant) in [
            ("bsut", Some("bust")),
            ("underbust", Some("under-bust")),
            ("Waist", Some("waist")),
            ("waist_to_hip", Some("waist-to-hip")),
            ("hips", Some("hip")),
            ("collar", None),
            ("", None),
        ] {
            assert_eq!(nearest(written, &allowed), meant, "{written}");
        }
    }

    #[test]
    fn letters_are_counted_as_in_the_published_examples() {
        // "kitten" to "sitting" is 3 and "saturday" to "sunday" is 3: the usual worked examples of the edit distance
        // (from memory).
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("saturday", "sunday"), 3);
        assert_eq!(distance("ab", "ba"), 1);
    }
}
