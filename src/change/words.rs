//! The difference between two runs of words: the shortest script of words taken out and put in.
//!
//! E. W. Myers, "An O(ND) Difference Algorithm and Its Variations", Algorithmica 1 (1986), greedy algorithm.

/// A step of a script.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Edit<T> {
    Same(T),
    Removed(T),
    Added(T),
}

/// A script longer than this is not looked for: then the whole is taken out and put in.
const LONGEST: usize = 2_000;

/// The shortest script that makes `to` of `from`. O((N + M) D) time, O(D²) memory.
pub fn edits<T: PartialEq + Clone>(from: &[T], to: &[T]) -> Vec<Edit<T>> {
    let head = from.iter().zip(to).take_while(|(a, b)| a == b).count();
    let tail = from[head..].iter().rev().zip(to[head..].iter().rev()).take_while(|(a, b)| a == b).count();
    let (a, b) = (&from[head..from.len() - tail], &to[head..to.len() - tail]);
    let mut script: Vec<Edit<T>> = from[..head].iter().cloned().map(Edit::Same).collect();
    script.extend(middle(a, b));
    script.extend(from[from.len() - tail..].iter().cloned().map(Edit::Same));
    script
}

fn middle<T: PartialEq + Clone>(a: &[T], b: &[T]) -> Vec<Edit<T>> {
    let most = (a.len() + b.len()).min(LONGEST);
    let width = 2 * most as isize + 3;
    let at = |k: isize| (k + most as isize + 1).rem_euclid(width) as usize;
    // The furthest reach on each diagonal, and its state before each round.
    let mut reach = vec![0_usize; width as usize];
    let mut rounds: Vec<Vec<usize>> = Vec::new();
    for d in 0..=most as isize {
        let low = at(-d - 1);
        rounds.push(reach[low..=at(d + 1)].to_vec());
        for k in (-d..=d).step_by(2) {
            let down = k == -d || (k != d && reach[at(k - 1)] < reach[at(k + 1)]);
            let mut x = if down { reach[at(k + 1)] } else { reach[at(k - 1)] + 1 };
            let mut y = (x as isize - k) as usize;
            while x < a.len() && y < b.len() && a[x] == b[y] {
                (x, y) = (x + 1, y + 1);
            }
            reach[at(k)] = x;
            if x >= a.len() && y >= b.len() {
                return back(a, b, &rounds);
            }
        }
    }
    a.iter().cloned().map(Edit::Removed).chain(b.iter().cloned().map(Edit::Added)).collect()
}

/// Goes back over the rounds from the end to the beginning.
fn back<T: PartialEq + Clone>(a: &[T], b: &[T], rounds: &[Vec<usize>]) -> Vec<Edit<T>> {
    let (mut x, mut y) = (a.len(), b.len());
    let mut script = Vec::new();
    for (d, reach) in rounds.iter().enumerate().rev() {
        let d = d as isize;
        let get = |k: isize| reach[(k + d + 1) as usize];
        let k = x as isize - y as isize;
        let down = k == -d || (k != d && get(k - 1) < get(k + 1));
        let before = if down { k + 1 } else { k - 1 };
        let (from_x, from_y) = if d == 0 { (0, 0) } else { (get(before), (get(before) as isize - before) as usize) };
        while x > from_x && y > from_y {
            (x, y) = (x - 1, y - 1);
            script.push(Edit::Same(a[x].clone()));
        }
        if d > 0 {
            if down {
                y -= 1;
                script.push(Edit::Added(b[y].clone()));
            } else {
                x -= 1;
                script.push(Edit::Removed(a[x].clone()));
            }
        }
    }
    script.reverse();
    script
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Edit, edits};

    /// Length of the longest common subsequence, by the textbook table (Wagner and Fischer 1974).
    fn common(a: &[u8], b: &[u8]) -> usize {
        let mut table = vec![vec![0; b.len() + 1]; a.len() + 1];
        for i in 0..a.len() {
            for j in 0..b.len() {
                table[i + 1][j + 1] = if a[i] == b[j] { table[i][j] + 1 } else { table[i][j + 1].max(table[i + 1][j]) };
            }
        }
        table[a.len()][b.len()]
    }

    proptest! {
        #[test]
        fn a_script_is_right_and_the_shortest(a in proptest::collection::vec(0_u8..4, 0..40), b in proptest::collection::vec(0_u8..4, 0..40)) {
            let script = edits(&a, &b);
            let side = |keep: fn(&Edit<u8>) -> Option<u8>| script.iter().filter_map(keep).collect::<Vec<_>>();
            let from = side(|e| match e { Edit::Same(w) | Edit::Removed(w) => Some(*w), Edit::Added(_) => None });
            let to = side(|e| match e { Edit::Same(w) | Edit::Added(w) => Some(*w), Edit::Removed(_) => None });
            prop_assert_eq!(&from, &a);
            prop_assert_eq!(&to, &b);
            let same = script.iter().filter(|e| matches!(e, Edit::Same(_))).count();
            prop_assert_eq!(same, common(&a, &b));
        }
    }

    #[test]
    fn a_long_text_that_is_all_new_is_replaced() {
        let (a, b): (Vec<usize>, Vec<usize>) = ((0..3000).collect(), (5000..8000).collect());
        assert_eq!(edits(&a, &b).len(), 6000);
    }
}
