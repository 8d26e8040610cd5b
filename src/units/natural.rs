//! Natural order: digits compare as numbers, so that AN3-6A comes before AN3-10A.

use std::cmp::Ordering;

/// Compares two names naturally; equal-looking numbers (`07`, `7`) fall back to plain order.
pub fn natural_cmp(a: &str, b: &str) -> Ordering {
    let (mut x, mut y) = (a.as_bytes(), b.as_bytes());
    // What is the same decides nothing, except within a number.
    let mut same = shared(x, y);
    if same == x.len() && same == y.len() {
        return Ordering::Equal;
    }
    while same > 0 && x[same - 1].is_ascii_digit() {
        same -= 1;
    }
    (x, y) = (&x[same..], &y[same..]);
    loop {
        match (x.first(), y.first()) {
            (None, None) => return a.cmp(b),
            (None, _) => return Ordering::Less,
            (_, None) => return Ordering::Greater,
            (Some(p), Some(q)) if p.is_ascii_digit() && q.is_ascii_digit() => {
                let (m, n) = (digits(x), digits(y));
                let (u, v) = (trim_zeros(&x[..m]), trim_zeros(&y[..n]));
                let order = u.len().cmp(&v.len()).then_with(|| u.cmp(v));
                if order != Ordering::Equal {
                    return order;
                }
                (x, y) = (&x[m..], &y[n..]);
            }
            (Some(p), Some(q)) => {
                let order = p.cmp(q);
                if order != Ordering::Equal {
                    return order;
                }
                (x, y) = (&x[1..], &y[1..]);
            }
        }
    }
}

/// How many bytes the two begin with alike, counted by eights: large manuals sort and look up by hundreds of thousands
/// of long names that differ at their end.
fn shared(x: &[u8], y: &[u8]) -> usize {
    let (p, q) = (x.as_chunks::<8>().0, y.as_chunks::<8>().0);
    let eights = p.iter().zip(q).take_while(|(a, b)| a == b).count() * 8;
    eights + x[eights..].iter().zip(&y[eights..]).take_while(|(a, b)| a == b).count()
}

fn digits(s: &[u8]) -> usize {
    s.iter().take_while(|b| b.is_ascii_digit()).count()
}

fn trim_zeros(s: &[u8]) -> &[u8] {
    let zeros = s.iter().take_while(|&&b| b == b'0').count();
    &s[zeros..]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn six_comes_before_ten() {
        let mut names = ["AN3-10A", "AN3-6A", "AN4-3", "AN365-428A", "AN3-6"];
        names.sort_by(|a, b| natural_cmp(a, b));
        assert_eq!(names, ["AN3-6", "AN3-6A", "AN3-10A", "AN4-3", "AN365-428A"]);
    }

    /// Wherever two names part: before, at and behind each eighth byte, within a number and beside one.
    #[test]
    fn names_of_any_length_are_held_against_each_other() {
        for lead in 0..20 {
            let lead = "x".repeat(lead);
            for (less, more) in [("", "a"), ("a", "b"), ("9", "10"), ("19", "110"), ("07", "7"), ("7a", "7b")] {
                let (a, b) = (format!("{lead}{less}"), format!("{lead}{more}"));
                assert_eq!(natural_cmp(&a, &b), Ordering::Less, "{a} {b}");
                assert_eq!(natural_cmp(&b, &a), Ordering::Greater, "{a} {b}");
                assert_eq!(natural_cmp(&a, &a), Ordering::Equal, "{a}");
            }
        }
    }
}
