//! Lists within a sentence.

use crate::sentence;
use crate::text::Sentence;

/// "a, b and c"; empty where there are none.
#[must_use]
pub fn listed(items: impl IntoIterator<Item = Sentence>) -> Sentence {
    let mut items: Vec<Sentence> = items.into_iter().collect();
    let Some(last) = items.pop() else { return sentence!("") };
    match items.into_iter().reduce(|list, next| sentence!("{}, {}", list, next)) {
        Some(list) => sentence!("{} and {}", list, last),
        None => last,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::UnitSystem;

    #[test]
    fn a_list_has_an_and_before_its_last() {
        let list = |n: usize| {
            let items = ["a", "b", "c"].into_iter().take(n).map(|item| sentence!("{}", item));
            listed(items).show(UnitSystem::Metric)
        };
        assert_eq!([list(0), list(1), list(2), list(3)], ["", "a", "a and b", "a, b and c"]);
    }
}
