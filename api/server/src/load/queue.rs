//! The queue of calculations that may take long.
//!
//! A limited number is answered at the same time, each on its own thread, and a limited
//! number waits; any more are refused at once with 503 and `Retry-After`. A calculation
//! that takes too long is cut off. A slot is held until its thread is free, not until
//! the caller has been answered.
//!
//! **Everybody has a share** (`shares.rs`): a caller beyond it waits behind its own, and not before others.
//!
//! **Large calculations leave room for small ones.** How much work a document is is known before it is answered
//! (`sumpwright_openapi::work`). However many callers ask for large ones, one slot and a quarter of the places to wait in
//! are left for what takes a fraction of a second. Parts of a stream are large together.
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
use sumpwright_openapi::work::Work;
use tokio::sync::{OwnedSemaphorePermit, Semaphore, TryAcquireError};
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
    large: LargeOnes,
    /// Number of calculations that were cut off and still run.
    runs_on: Arc<AtomicUsize>,
}

/// What large calculations, of all callers together, leave to the small ones.
struct LargeOnes {
    slots: Arc<Semaphore>,
    waiting: AtomicUsize,
    waiting_most: usize,
}

/// A slot, and its part of the caller's share; held until the thread is free.
struct Slot {
    _own: OwnedSemaphorePermit,
    _large: Option<OwnedSemaphorePermit>,
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
        let large = LargeOnes {
            slots: Arc::new(Semaphore::new(at_once.saturating_sub(1).max(1))),
            waiting: AtomicUsize::new(0),
            waiting_most: configuration.waiting - configuration.waiting / 4,
        };
        Self {
            slots: Arc::new(Semaphore::new(at_once)),
            at_once,
            waiting: AtomicUsize::new(0),
            waiting_most: configuration.waiting,
            within: configuration.answer_within(),
            shares,
            large,
            runs_on: Arc::default(),
        }
    }

    /// Does `work` of a caller, which is so much, when a slot is free.
    pub async fn answer<Answer: Send + 'static>(
        &self,
        caller: &Arc<str>,
        how_much: Work,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let slot = self.slot(caller, how_much == Work::Large).await?;
        self.work(slot, work).await
    }

    /// Does a part of work that has already been accepted and therefore must not be
    /// refused.
    pub async fn answer_part<Answer: Send + 'static>(
        &self,
        caller: &Arc<str>,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let slot = self.wait(self.shares.of(caller), true).await?;
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

    async fn slot(&self, caller: &Arc<str>, is_large: bool) -> Result<Slot, Problem> {
        let share = self.shares.of(caller);
        if let Ok(slot) = self.free(&share, is_large) {
            return Ok(slot);
        }
        let _own_place =
            place(&share.waiting, self.shares.waiting).ok_or_else(|| self.beyond_its_share())?;
        let _large_place = if is_large {
            let large = place(&self.large.waiting, self.large.waiting_most);
            Some(large.ok_or_else(|| self.too_busy_for_large_ones())?)
        } else {
            None
        };
        let _place = place(&self.waiting, self.waiting_most).ok_or_else(|| self.too_busy())?;
        match timeout(self.within, self.wait(Arc::clone(&share), is_large)).await {
            Ok(slot) => slot,
            Err(_) => Err(self.too_busy()),
        }
    }

    /// A slot, where one is free now.
    fn free(&self, share: &Arc<Share>, is_large: bool) -> Result<Slot, TryAcquireError> {
        let own = Arc::clone(&share.slots).try_acquire_owned()?;
        let large = is_large.then(|| Arc::clone(&self.large.slots).try_acquire_owned());
        let large = large.transpose()?;
        let turn = Arc::clone(&self.slots).try_acquire_owned()?;
        Ok(Slot { _own: own, _large: large, _turn: turn, _share: Arc::clone(share) })
    }

    /// Waits for a slot of the caller's share, then for one of the large ones if it is one, and then for
    /// one of all.
    async fn wait(&self, share: Arc<Share>, is_large: bool) -> Result<Slot, Problem> {
        let of = async |slots: &Arc<Semaphore>| {
            Arc::clone(slots).acquire_owned().await.map_err(|_| stopping())
        };
        let own = of(&share.slots).await?;
        let large = if is_large { Some(of(&self.large.slots).await?) } else { None };
        let turn = of(&self.slots).await?;
        Ok(Slot { _own: own, _large: large, _turn: turn, _share: share })
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

    fn too_busy_for_large_ones(&self) -> Problem {
        let detail = format!(
            "{} calculations that take long are waiting, the maximum for this service. Send the request \
             again in a moment.",
            self.large.waiting_most
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
