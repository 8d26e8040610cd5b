//! Natural order: digits compare as numbers, so that AN3-6A comes before AN3-10A.

use std::cmp::Ordering;

/// Compares two names naturally; equal-looking numbers (`07`, `7`) fall back to plain order.
pub fn natural_cmp(a: &str, b: &str) -> Ordering {
    let (mut x, mut y) = (a.as_bytes(), b.as_bytes());
    // What is the same decides nothing, except within a number.
    let mut same = x.iter().zip(y).take_while(|(p, q)| p == q).count();
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
}
