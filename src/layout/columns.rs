//! How wide the columns of a table are, so that the table gets as low as it can.
//!
//! Owns: sharing a width among columns. Must not know: what is in cells.

/// The measures of a table in points.
pub struct Measures {
    /// What a column has beside its text.
    pub padding: f64,
    /// Of each column: the widest word, and the width on one line, with padding.
    pub least: Vec<f64>,
    pub wished: Vec<f64>,
    /// Of each row, the width of each column's text on one line, without padding.
    pub rows: Vec<Vec<f64>>,
    /// How much of what is left over a column takes; 0 for one that is to be as wide as its text and no wider.
    pub weights: Vec<f64>,
}

/// In how many portions the width is shared out.
const PORTIONS: usize = 64;
/// Rows that are looked at; of a longer table every so many.
const MOST_ROWS: usize = 48;
/// How much higher a table may be for the sake of columns as wide as their text.
const LOWER: f64 = 1.15;
/// Lines end short of the column's edge, by about this share of its widest word.
const RAGGED: f64 = 0.35;

impl Measures {
    /// Widths that add up to `width`. No column gets less than its widest word where there is room for that.
    pub fn share(&self, width: f64) -> Vec<f64> {
        let least: f64 = self.least.iter().sum();
        if least >= width {
            return self.least.iter().map(|l| l * width / least).collect();
        }
        let wished: f64 = self.wished.iter().sum();
        if wished <= width {
            return self.spread(width - wished);
        }
        // What is to be as wide as its text comes first, where that leaves the others most of the table and makes it no
        // higher.
        let even = self.spent(self.least.clone(), width);
        let fit = |i: &usize| self.weights[*i] == 0.0;
        let mut first = self.least.clone();
        (0..first.len()).filter(fit).for_each(|i| first[i] = self.wished[i]);
        if first.iter().sum::<f64>() - least > (width - least) * 0.5 {
            return even;
        }
        let first = self.spent(first, width);
        if self.lines(&first) > self.lines(&even) * LOWER { even } else { first }
    }

    /// What is left of the width, given out where it lowers the table.
    fn spent(&self, mut widths: Vec<f64>, width: f64) -> Vec<f64> {
        let portion = (width - widths.iter().sum::<f64>()) / PORTIONS as f64;
        let step = self.rows.len().div_ceil(MOST_ROWS).max(1);
        for _ in 0..PORTIONS {
            let column = self.neediest(&widths, step);
            widths[column] += portion;
        }
        widths
    }

    /// All have what they wish; the rest goes by weight, or in proportion where no column takes more.
    fn spread(&self, rest: f64) -> Vec<f64> {
        let weights: f64 = self.weights.iter().sum();
        let wished: f64 = self.wished.iter().sum();
        let share = |i: usize| if weights > 0.0 { self.weights[i] / weights } else { self.wished[i] / wished };
        (0..self.wished.len()).map(|i| self.wished[i] + rest * share(i)).collect()
    }

    /// The column that makes the most rows high: a portion of width is best spent on it.
    fn neediest(&self, widths: &[f64], step: usize) -> usize {
        let mut need = vec![0.0; widths.len()];
        for row in self.rows.iter().step_by(step) {
            let lines = |i: usize| self.lines_of(row[i], i, widths[i]);
            let highest = (0..row.len()).map(lines).fold(0.0, f64::max);
            if highest <= 1.0 {
                continue;
            }
            for i in (0..row.len()).filter(|&i| lines(i) > highest * 0.92) {
                need[i] += lines(i) / widths[i];
            }
        }
        let open = |i: &usize| widths[*i] < self.wished[*i];
        let most = (0..widths.len()).filter(open).max_by(|&a, &b| need[a].total_cmp(&need[b]).then(b.cmp(&a)));
        most.unwrap_or(0)
    }

    /// About how many lines the rows have together.
    pub fn lines(&self, widths: &[f64]) -> f64 {
        let lines =
            |row: &Vec<f64>| (0..row.len()).map(|i| self.lines_of(row[i], i, widths[i]).ceil()).fold(1.0, f64::max);
        self.rows.iter().map(lines).sum()
    }

    /// About how many lines a text takes in a column.
    fn lines_of(&self, text: f64, column: usize, width: f64) -> f64 {
        let room = width - self.padding;
        if text <= room {
            return (text / room.max(1.0)).min(1.0);
        }
        let word = self.least[column] - self.padding;
        (text / (room - word * RAGGED).max(room * 0.5).max(1.0)).max(1.01)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn table(rows: Vec<Vec<f64>>, least: Vec<f64>) -> Measures {
        let wished = (0..least.len()).map(|i| rows.iter().map(|r| r[i]).fold(least[i], f64::max)).collect();
        let weights = vec![1.0; least.len()];
        Measures { padding: 0.0, least, wished, rows, weights }
    }

    #[test]
    fn the_column_with_the_long_text_gets_the_width() {
        let table = table(vec![vec![30.0, 60.0, 900.0, 110.0]; 2], vec![30.0, 30.0, 60.0, 40.0]);
        let widths = table.share(400.0);
        assert!(widths[2] > 230.0, "{widths:?}");
        assert!(table.lines(&widths) <= 10.0, "{widths:?}");
    }

    /// A column that is to be as wide as its text gives way where the table would be much higher for it.
    #[test]
    fn a_wide_name_does_not_squeeze_the_text_beside_it() {
        let mut names = table(vec![vec![130.0, 420.0, 60.0]; 3], vec![70.0, 60.0, 40.0]);
        names.weights = vec![0.0, 3.0, 0.0];
        let widths = names.share(270.0);
        assert!(names.lines(&widths) <= names.lines(&[70.0, 140.0, 60.0]) * LOWER, "{widths:?}");
    }

    proptest! {
        #[test]
        fn widths_fill_the_table_and_hold_every_word(
            rows in proptest::collection::vec(proptest::collection::vec(0.0..900.0f64, 5), 1..9),
            least in proptest::collection::vec(8.0..70.0f64, 5),
            width in 100.0..600.0f64,
        ) {
            let table = table(rows, least.clone());
            let widths = table.share(width);
            prop_assert!((widths.iter().sum::<f64>() - width).abs() < 1e-6);
            if least.iter().sum::<f64>() <= width {
                prop_assert!(widths.iter().zip(&least).all(|(w, l)| w + 1e-9 >= *l));
            }
        }

        /// Never higher than by equal shares of what is above the widest words.
        #[test]
        fn a_table_is_about_as_low_as_any(
            rows in proptest::collection::vec(proptest::collection::vec(0.0..600.0f64, 4), 1..6),
            cuts in proptest::collection::vec(0.01..1.0f64, 4),
        ) {
            let table = table(rows, vec![40.0; 4]);
            let chosen = table.lines(&table.share(380.0));
            let total: f64 = cuts.iter().sum();
            let other: Vec<f64> = cuts.iter().map(|c| 40.0 + c / total * 220.0).collect();
            prop_assert!(chosen <= table.lines(&other) * 1.3 + 2.0, "{chosen} {}", table.lines(&other));
        }
    }
}
