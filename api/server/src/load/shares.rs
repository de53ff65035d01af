//! The share of each caller: so many slots, and so many places in the waiting room.
//!
//! **One caller's study never stops the others.** Each has fewer slots than there are, so that one is left for
//! somebody else, and at most half of the places to wait in. By default there is a slot more than cores: a caller alone
//! keeps all cores busy, and the next one shares them.

use std::collections::HashMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use tokio::sync::Semaphore;

/// Callers who hold nothing are forgotten where there are more than so many.
const KEPT: usize = 1000;

/// The shares of all callers.
pub(super) struct Shares {
    callers: Mutex<HashMap<Arc<str>, Arc<Share>>>,
    /// Slots of each.
    pub(super) at_once: usize,
    /// Places of each in the waiting room.
    pub(super) waiting: usize,
}

/// What one caller holds.
pub(super) struct Share {
    pub(super) slots: Arc<Semaphore>,
    pub(super) waiting: AtomicUsize,
}

impl Shares {
    pub(super) fn new(at_once: usize, waiting: usize) -> Self {
        Self { callers: Mutex::default(), at_once, waiting }
    }

    /// The share of a caller.
    pub(super) fn of(&self, caller: &Arc<str>) -> Arc<Share> {
        let mut callers = self.callers.lock().unwrap_or_else(PoisonError::into_inner);
        if callers.len() > KEPT {
            callers.retain(|_, share| Arc::strong_count(share) > 1);
        }
        let share = callers.entry(Arc::clone(caller)).or_insert_with(|| {
            let slots = Arc::new(Semaphore::new(self.at_once));
            Arc::new(Share { slots, waiting: AtomicUsize::new(0) })
        });
        Arc::clone(share)
    }

    /// The callers who hold something: how many slots, and how many places to wait in.
    pub(super) fn held(&self) -> Vec<(Arc<str>, usize, usize)> {
        let callers = self.callers.lock().unwrap_or_else(PoisonError::into_inner);
        let held = callers.iter().map(|(caller, share)| {
            let answering = self.at_once.saturating_sub(share.slots.available_permits());
            (Arc::clone(caller), answering, share.waiting.load(Ordering::Relaxed))
        });
        held.filter(|(_, answering, waiting)| answering + waiting > 0).collect()
    }
}
