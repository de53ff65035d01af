//! How much of what could be said of an answer is said.
//!
//! Words cost more than numbers: a table of five columns, or a draw of ten thousand, has no
//! place for findings, assumptions and the rows of a balance, and whoever asks all day wants
//! the answer and no file. So whatever asks a calculation says by [`telling`] what its form
//! has a place for, and the calculation makes the rest only where that is asked for. Numbers
//! never hang on it.

use crate::numerics::for_now::for_now;
use std::cell::Cell;

/// How much is told of an answer, the least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Telling {
    /// Its numbers: every sentence in it is empty.
    Numbers,
    /// The answer in numbers and words, what to look at first and what can hurt.
    Answer,
    /// Also what stands behind it: assumptions, and each row of the balance.
    Record,
}

thread_local! {
    /// How much this thread tells for now.
    static TELLING: Cell<Telling> = const { Cell::new(Telling::Record) };
}

/// Works something out of which only so much is told.
pub fn telling<T>(much: Telling, work: impl FnOnce() -> T) -> T {
    for_now(&TELLING, much, work)
}

/// Whether sentences are to be made.
#[must_use]
pub fn is_said() -> bool {
    TELLING.get() > Telling::Numbers
}

/// Whether what stands behind an answer is to be made.
#[must_use]
pub fn is_filed() -> bool {
    TELLING.get() >= Telling::Record
}

/// What is made of words alone; nothing where no words are asked for.
pub(crate) fn said<T: Default>(make: impl FnOnce() -> T) -> T {
    if is_said() { make() } else { T::default() }
}

/// The same of what may be refused.
pub(crate) fn try_said<T: Default, E>(make: impl FnOnce() -> Result<T, E>) -> Result<T, E> {
    if is_said() { make() } else { Ok(T::default()) }
}

/// What stands behind an answer; nothing where only the answer is asked for.
pub(crate) fn filed<T: Default>(make: impl FnOnce() -> T) -> T {
    if is_filed() { make() } else { T::default() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Quantity, UnitSystem, Volume};
    use crate::sentence;

    #[test]
    fn what_is_not_asked_for_is_not_made_and_what_comes_after_is() {
        let both = || (said(|| vec!["found"]), filed(|| vec!["assumed"]));
        assert_eq!(telling(Telling::Numbers, both), (vec![], vec![]));
        assert_eq!(telling(Telling::Answer, both), (vec!["found"], vec![]));
        assert_eq!(both(), (vec!["found"], vec!["assumed"]));
    }

    #[test]
    fn where_numbers_are_asked_for_there_are_no_sentences() {
        let held = || sentence!("It holds {}.", Volume::measure_of(2.0)).show(UnitSystem::Metric);
        assert_eq!(telling(Telling::Numbers, held), "");
        assert_eq!(telling(Telling::Answer, held), "It holds 2 L.");
        assert_eq!(held(), "It holds 2 L.");
    }
}
