//! Several things in one sentence.

use super::Sentence;
use crate::sentence;

/// "a, b and c".
#[must_use]
pub fn listed(things: Vec<Sentence>) -> Sentence {
    let mut things = things.into_iter().rev();
    let Some(last) = things.next() else { return Sentence::fixed("") };
    let Some(before) = things.next() else { return last };
    let mut list = sentence!("{} and {}", before, last);
    for thing in things {
        list = sentence!("{}, {}", thing, list);
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::UnitSystem;

    #[test]
    fn a_list_has_commas_and_one_and() {
        let of = |words: &[&str]| {
            let things = words.iter().map(|word| sentence!("{}", *word)).collect();
            listed(things).show(UnitSystem::Metric)
        };
        assert_eq!(of(&["a", "b", "c"]), "a, b and c");
        assert_eq!(of(&["a", "b"]), "a and b");
        assert_eq!(of(&["a"]), "a");
    }
}
