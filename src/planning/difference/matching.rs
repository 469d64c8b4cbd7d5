//! Rows of two lists brought together by their keys: what came, what went, what stands elsewhere.

use super::told::Teller;
use super::{Change, ChangeTopic, ChangedThing};
use crate::text;
use crate::units::{Quantity, Text};
use std::collections::BTreeMap;

/// A row of one of the plan's lists.
pub(super) trait Row: PartialEq {
    /// What it is known by.
    type Key: Ord + Clone;
    /// The part of the plan that the list belongs to.
    const TOPIC: ChangeTopic;
    /// What is said of a row that came or went, such as `ordered`.
    const THERE: &'static str;
    /// What is said of a row that stands elsewhere in the list.
    const PLACE: &'static str;
    /// What it is known by.
    fn key(&self) -> Self::Key;
    /// The thing that a change of it is about.
    fn thing(&self) -> ChangedThing;
    /// The whole row in a few words.
    fn words(&self) -> Text;
    /// Tells of each field that differs; the key is the same.
    fn compare(&self, after: &Self, teller: &mut Teller<'_>);
}

/// Tells what differs between two lists.
pub(super) fn compare_rows<R: Row>(changes: &mut Vec<Change>, before: &[R], after: &[R]) {
    for pair in pairs(before, after, R::key) {
        let Some(row) = pair.before.or(pair.after).map(|(_, row)| row) else { continue };
        let mut teller = Teller::new(changes, R::TOPIC, row.thing());
        match (pair.before, pair.after) {
            (Some((from, one)), Some((to, two))) => {
                one.compare(two, &mut teller);
                if pair.moved {
                    let place = |at: usize| text!["number ", Quantity::count(at + 1)];
                    teller.tell(R::PLACE, place(from), place(to));
                }
            }
            (one, two) => teller.came_or_went(
                R::THERE,
                one.map(|(_, row)| row.words()),
                two.map(|(_, row)| row.words()),
            ),
        }
    }
}

/// The same row in two lists, each with its index there.
#[derive(Debug)]
pub(super) struct Pair<'p, T> {
    pub(super) before: Option<(usize, &'p T)>,
    pub(super) after: Option<(usize, &'p T)>,
    /// Whether it stands elsewhere among the rows that both lists have.
    pub(super) moved: bool,
}

/// Brings the rows of two lists together: those of `before` in its order, then what only `after` has.
///
/// Where a key stands several times in a list, its rows are taken in their order.
pub(super) fn pairs<'p, T, K: Ord + Clone>(
    before: &'p [T],
    after: &'p [T],
    key: impl Fn(&T) -> K,
) -> Vec<Pair<'p, T>> {
    let (from, to) = (keyed(before, &key), keyed(after, &key));
    let places: BTreeMap<&(K, usize), usize> = to.iter().zip(0..).collect();
    let mut pairs: Vec<Pair<'p, T>> = Vec::new();
    let mut common: Vec<(&(K, usize), usize, usize)> = Vec::new();
    let mut taken = vec![false; after.len()];
    for (at, row) in before.iter().enumerate() {
        let to = places.get(&from[at]).copied();
        if let Some(to) = to {
            common.push((&from[at], to, pairs.len()));
            taken[to] = true;
        }
        pairs.push(Pair {
            before: Some((at, row)),
            after: to.map(|to| (to, &after[to])),
            moved: to.is_some(),
        });
    }
    for at in staying(&common) {
        pairs[common[at].2].moved = false;
    }
    let new = after.iter().enumerate().filter(|(at, _)| !taken[*at]);
    pairs.extend(new.map(|row| Pair { before: None, after: Some(row), moved: false }));
    pairs
}

/// The keys of a list, each with how many like it came before.
fn keyed<T, K: Ord + Clone>(rows: &[T], key: impl Fn(&T) -> K) -> Vec<(K, usize)> {
    let mut seen: BTreeMap<K, usize> = BTreeMap::new();
    let keys = rows.iter().map(|row| {
        let key = key(row);
        let nth = seen.entry(key.clone()).or_default();
        *nth += 1;
        (key, *nth - 1)
    });
    keys.collect()
}

/// Of rows in the order of one list, with their place in the other, the most that keep their order, as indices.
///
/// Of several such choices the one whose keys come first, which is the same seen from either list.
fn staying<K: Ord>(common: &[(K, usize, usize)]) -> Vec<usize> {
    let count = common.len();
    // How many can follow from each row on, itself included.
    let mut follow = vec![1_usize; count];
    for at in (0..count).rev() {
        let after = (at + 1..count).filter(|next| common[*next].1 > common[at].1);
        follow[at] += after.map(|next| follow[next]).max().unwrap_or(0);
    }
    let mut kept = Vec::new();
    let mut wanted = follow.iter().copied().max().unwrap_or(0);
    let mut last: Option<usize> = None;
    while wanted > 0 {
        let fits = |at: &usize| {
            follow[*at] == wanted && last.is_none_or(|last| *at > last && common[*at].1 > common[last].1)
        };
        let Some(next) = (0..count).filter(fits).min_by(|a, b| common[*a].0.cmp(&common[*b].0)) else {
            break;
        };
        kept.push(next);
        last = Some(next);
        wanted -= 1;
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Which of the common rows moved.
    fn check(before: &str, after: &str, moved: &str) {
        let (one, two): (Vec<char>, Vec<char>) = (before.chars().collect(), after.chars().collect());
        for (one, two) in [(&one, &two), (&two, &one)] {
            let mut found: Vec<char> = pairs(one, two, |c| *c)
                .iter()
                .filter(|pair| pair.moved)
                .filter_map(|pair| pair.before.map(|(_, c)| *c))
                .collect();
            found.sort_unstable();
            assert_eq!(found.into_iter().collect::<String>(), moved, "{before} {after}");
        }
    }

    #[test]
    fn the_fewest_rows_are_told_as_moved_and_the_same_ones_seen_from_either_list() {
        check("abcde", "abcde", "");
        check("abcde", "eabcd", "e");
        check("abcde", "bacde", "b");
        check("abcd", "dcba", "bcd");
        // What came or went moves nothing.
        check("abcd", "xbyd", "");
        // The two a keep their order, or the two b, and no three of them do.
        check("abab", "baba", "bb");
    }

    #[test]
    fn rows_come_in_the_order_of_the_first_list_and_new_ones_last() {
        let (one, two) = ([1, 2, 3], [3, 4, 1]);
        let told: Vec<_> = pairs(&one, &two, |n| *n)
            .iter()
            .map(|pair| (pair.before.map(|(at, _)| at), pair.after.map(|(at, _)| at)))
            .collect();
        assert_eq!(told, [(Some(0), Some(2)), (Some(1), None), (Some(2), Some(0)), (None, Some(1))]);
    }
}
