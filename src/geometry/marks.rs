//! Marks along a piece: rows of holes, measured from one end so that errors do not build up.

use crate::units::{Length, Rational};

/// `count` marks from `first` to `last`, equally spaced and exact, each measured from the same end.
///
/// # Errors
/// Fewer than two marks, more than 10,000, or a row that does not go forward; lower case, no full stop.
pub fn equally_spaced(first: Length, last: Length, count: usize) -> Result<Vec<Length>, String> {
    if !(2..=10_000).contains(&count) {
        return Err(format!("a row of {count} marks is none; it has 2 to 10,000"));
    }
    if last <= first {
        return Err("the last mark is not beyond the first".to_owned());
    }
    let spacing = (last - first).as_inches() / Rational::from_integer(count as i64 - 1);
    Ok((0..count as i64).map(|i| first + Length::from_inches(spacing) * i).collect())
}

/// The nearest whole number of `step`, such as 1/64 in or 0.5 mm; halves go up. `step` must be positive.
pub fn nearest(length: Length, step: Length) -> Length {
    let steps = (length.as_inches() / step.as_inches() + Rational::new(1, 2)).floor();
    step * steps.to_integer()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> Length {
        Length::parse(text).expect(text)
    }

    #[test]
    fn errors_do_not_build_up() {
        let row = equally_spaced(inches("1/2"), inches("10"), 8).expect("a row");
        assert_eq!((row[0], row[7]), (inches("1/2"), inches("10")));
        for (i, mark) in row.iter().enumerate() {
            let exact = 0.5 + 9.5 * i as f64 / 7.0;
            assert!((mark.to_f64() - exact).abs() < 1e-12);
            let on_tape = nearest(*mark, inches("1/64"));
            assert!((on_tape.to_f64() - exact).abs() <= 1.0 / 128.0 + 1e-12);
        }
        assert_eq!(nearest(inches("25.7 mm"), inches("0.5 mm")), inches("25.5 mm"));
        assert_eq!(nearest(inches("25.75 mm"), inches("0.5 mm")), inches("26 mm"));
    }

    #[test]
    fn a_row_that_is_none_is_refused() {
        for (first, last, count) in [("1", "1", 4), ("2", "1", 4), ("1", "2", 1), ("1", "2", 1_000_000)] {
            assert!(equally_spaced(inches(first), inches(last), count).is_err());
        }
    }
}
