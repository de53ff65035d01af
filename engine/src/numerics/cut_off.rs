//! Ending a calculation before it is done.
//!
//! The engine has no clock. Whoever waits for an answer may raise a flag, and the
//! loops that can be long look at it: [`look`] unwinds out of the calculation, past
//! all that knows nothing of flags, and [`unless`] says that it was cut off. A
//! calculation that is not cut off answers the same whether there is a flag or not.
//!
//! **A calculation is cut off by a flag that its loops look at**. The engine has
//! no clock; the server raises the flag when time is up, and `look()` unwinds past all that knows nothing
//! of flags, as incremental compilers do it, so that no signature carries it and no solver has an error for
//! it. A caller who goes away is not noticed before there is something to send. A new loop that can be long calls `look()` once a turn. The simplex solver
//! works in slices and goes on where it stopped, so that a clock decides nothing about an answer.

use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

thread_local! {
    static FLAG: RefCell<Option<Flag>> = const { RefCell::new(None) };
}

/// Raised to end a calculation.
#[derive(Debug, Clone, Default)]
pub struct Flag(Arc<AtomicBool>);

impl Flag {
    /// Raises the flag, for good.
    pub fn raise(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it has been raised.
    #[must_use]
    pub fn is_raised(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// The calculation was ended before it was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CutOff;

/// Does `work` unless `flag` is raised before it is done.
pub fn unless<T>(flag: &Flag, work: impl FnOnce() -> T) -> Result<T, CutOff> {
    match catch_unwind(AssertUnwindSafe(|| under(Some(flag.clone()), work))) {
        Ok(done) => Ok(done),
        Err(unwound) if unwound.is::<CutOff>() => Err(CutOff),
        Err(panic) => resume_unwind(panic),
    }
}

/// Ends the calculation here if its flag has been raised.
pub fn look() {
    let raised = FLAG.with_borrow(|flag| flag.as_ref().is_some_and(Flag::is_raised));
    if raised {
        resume_unwind(Box::new(CutOff));
    }
}

/// The flag that this thread looks at, to be handed to the threads that help it.
pub(crate) fn flag() -> Option<Flag> {
    FLAG.with_borrow(Clone::clone)
}

/// Does `work` with a flag to look at.
pub(crate) fn under<T>(flag: Option<Flag>, work: impl FnOnce() -> T) -> T {
    /// Puts back what was there, however the work ends.
    struct Before(Option<Flag>);
    impl Drop for Before {
        fn drop(&mut self) {
            FLAG.set(self.0.take());
        }
    }
    let _before = Before(FLAG.replace(flag));
    work()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_ends_at_the_next_look_and_leaves_nothing_behind() {
        let flag = Flag::default();
        assert_eq!(unless(&flag, || 5), Ok(5));
        let mut looks = 0;
        let ended = unless(&flag, || {
            loop {
                looks += 1;
                if looks == 3 {
                    flag.raise();
                }
                look();
            }
        });
        assert_eq!((ended, looks), (Err::<(), _>(CutOff), 3));
        look();
        assert!(super::flag().is_none());
    }

    #[test]
    fn a_helping_thread_looks_at_the_same_flag() {
        let flag = Flag::default();
        flag.raise();
        let ended = unless(&flag, || {
            crate::numerics::parallel::in_parallel(2, 2, |_| look());
        });
        assert_eq!(ended, Err(CutOff));
    }

    #[test]
    fn a_panic_stays_a_panic() {
        let caught = catch_unwind(|| unless(&Flag::default(), || panic!("for another reason")));
        let message = caught.expect_err("it panics");
        assert_eq!(message.downcast_ref(), Some(&"for another reason"));
    }
}
