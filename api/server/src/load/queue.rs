//! The queue of calculations that may take long.
//!
//! A limited number is answered at the same time, each on its own thread, and a limited
//! number waits; any more are refused at once with 503 and `Retry-After`. A calculation
//! that takes too long is cut off. A slot is held until its thread is free, not until
//! the caller has been answered.
//!
//! **Everybody has a share** (`shares.rs`): a caller beyond it waits behind its own, and not before others.
//!
//! **Quick questions never queue.** `IS_QUICK` says that a short document is answered in microseconds,
//! in the thread where it arrives. Everything else goes through this queue.

use super::shares::{Share, Shares};
use crate::access::caller::has_key;
use crate::configuration::Configuration;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;
use sumpwright_engine::numerics::cut_off::{CutOff, Flag, unless};
use sumpwright_openapi::guarded::guarded;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::task::spawn_blocking;
use tokio::time::timeout;

/// The queue.
pub struct Queue {
    slots: Arc<Semaphore>,
    at_once: usize,
    waiting: AtomicUsize,
    waiting_most: usize,
    within: Duration,
    shares: Shares,
    /// Number of calculations that were cut off and still run.
    runs_on: Arc<AtomicUsize>,
}

/// A slot, and its part of the caller's share; held until the thread is free.
struct Slot {
    _own: OwnedSemaphorePermit,
    _turn: OwnedSemaphorePermit,
    _share: Arc<Share>,
}

/// Raises its flag when dropped.
struct Raising(Flag);

impl Drop for Raising {
    fn drop(&mut self) {
        self.0.raise();
    }
}

/// Counts a waiting calculation until dropped.
struct Waiting<'a>(&'a AtomicUsize);

impl Drop for Waiting<'_> {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::Relaxed);
    }
}

impl Queue {
    /// A queue with the limits of the configuration.
    #[must_use]
    pub fn of(configuration: &Configuration) -> Self {
        let cores = || std::thread::available_parallelism().map_or(1, usize::from);
        let at_once = configuration.at_once.map_or_else(|| cores() + 1, usize::from);
        let each =
            |most: Option<usize>, default: usize, all: usize| most.unwrap_or(default).min(all);
        let at_once_each = configuration.at_once_each.map(usize::from);
        let shares = Shares::new(
            each(at_once_each, at_once.saturating_sub(1).max(1), at_once),
            each(
                configuration.waiting_each,
                configuration.waiting.div_ceil(2),
                configuration.waiting,
            ),
        );
        Self {
            slots: Arc::new(Semaphore::new(at_once)),
            at_once,
            waiting: AtomicUsize::new(0),
            waiting_most: configuration.waiting,
            within: configuration.answer_within(),
            shares,
            runs_on: Arc::default(),
        }
    }

    /// Does `work` of a caller when a slot is free.
    pub async fn answer<Answer: Send + 'static>(
        &self,
        caller: &Arc<str>,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let slot = self.slot(caller).await?;
        self.work(slot, work).await
    }

    /// Does a part of work that has already been accepted and therefore must not be
    /// refused.
    pub async fn answer_part<Answer: Send + 'static>(
        &self,
        caller: &Arc<str>,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let slot = self.wait(self.shares.of(caller)).await?;
        self.work(slot, work).await
    }

    /// The callers who are known by a key and hold something: how many calculations of theirs are being answered, and
    /// how many wait.
    #[must_use]
    pub fn callers(&self) -> Vec<(Arc<str>, usize, usize)> {
        let mut held = self.shares.held();
        held.retain(|(caller, ..)| has_key(caller));
        held
    }

    /// The numbers of calculations being answered and waiting.
    #[must_use]
    pub fn load(&self) -> (usize, usize) {
        let answering = self.at_once.saturating_sub(self.slots.available_permits());
        (answering, self.waiting.load(Ordering::Relaxed))
    }

    /// Number of slots held by calculations that were cut off but have not yet checked
    /// their flag.
    #[must_use]
    pub fn runs_on(&self) -> usize {
        self.runs_on.load(Ordering::Relaxed)
    }

    async fn slot(&self, caller: &Arc<str>) -> Result<Slot, Problem> {
        let share = self.shares.of(caller);
        let free = Arc::clone(&share.slots).try_acquire_owned().and_then(|own| {
            let slot = Arc::clone(&self.slots).try_acquire_owned()?;
            Ok((own, slot))
        });
        if let Ok((own, slot)) = free {
            return Ok(Slot { _own: own, _turn: slot, _share: share });
        }
        let _own_place =
            place(&share.waiting, self.shares.waiting).ok_or_else(|| self.beyond_its_share())?;
        let _place = place(&self.waiting, self.waiting_most).ok_or_else(|| self.too_busy())?;
        match timeout(self.within, self.wait(Arc::clone(&share))).await {
            Ok(slot) => slot,
            Err(_) => Err(self.too_busy()),
        }
    }

    /// Waits for a slot of the caller's share, and then for one of all.
    async fn wait(&self, share: Arc<Share>) -> Result<Slot, Problem> {
        let own = Arc::clone(&share.slots).acquire_owned().await.map_err(|_| stopping())?;
        let slot = Arc::clone(&self.slots).acquire_owned().await.map_err(|_| stopping())?;
        Ok(Slot { _own: own, _turn: slot, _share: share })
    }

    async fn work<Answer: Send + 'static>(
        &self,
        slot: Slot,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let flag = Flag::default();
        let raising = Raising(flag.clone());
        let mut working = spawn_blocking(move || {
            // Held until the thread is free, not until the caller has been answered.
            let _slot = slot;
            unless(&flag, || guarded(work))
        });
        let done = timeout(self.within, &mut working).await;
        drop(raising);
        if done.is_err() {
            self.runs_on.fetch_add(1, Ordering::Relaxed);
            let runs_on = Arc::clone(&self.runs_on);
            tokio::spawn(async move {
                let _ = working.await;
                runs_on.fetch_sub(1, Ordering::Relaxed);
            });
        }
        match done {
            Ok(Ok(Ok(answered))) => answered,
            Ok(Ok(Err(CutOff))) | Err(_) => Err(self.too_long()),
            Ok(Err(_)) => Err(stopping()),
        }
    }

    fn too_busy(&self) -> Problem {
        let detail = format!(
            "{} calculations are being answered and {} more are waiting, the maximum for this \
             service. Send the request again in a moment.",
            self.at_once, self.waiting_most
        );
        Problem::plain(ProblemKind::TooBusy, detail)
    }

    fn beyond_its_share(&self) -> Problem {
        let detail = format!(
            "{} of your calculations are being answered and {} more are waiting, the maximum for one \
             caller of this service. Send the request again in a moment.",
            self.shares.at_once, self.shares.waiting
        );
        Problem::plain(ProblemKind::TooBusy, detail)
    }

    fn too_long(&self) -> Problem {
        let detail = format!(
            "The calculation was cut off after {} s, the maximum for this service. Ask for less \
             at once: fewer draws, sumps or stocks, or a shorter horizon.",
            self.within.as_secs()
        );
        Problem::plain(ProblemKind::TooLong, detail)
    }
}

/// A place to wait in, if fewer than `most` are taken.
fn place(taken: &AtomicUsize, most: usize) -> Option<Waiting<'_>> {
    let before = taken.fetch_add(1, Ordering::Relaxed);
    let place = Waiting(taken);
    (before < most).then_some(place)
}

fn stopping() -> Problem {
    Problem::plain(ProblemKind::Stopping, ProblemKind::Stopping.row().page)
}
