//! The queue of calculations that may take long.
//!
//! A limited number is answered at the same time, each on its own thread, and a limited
//! number waits; any more are refused at once with 503 and `Retry-After`. A calculation
//! that takes too long is cut off. A slot is held until its thread is free, not until
//! the caller has been answered.
//!
//! **Quick questions never queue.** `IS_QUICK` says that a short document is answered in microseconds,
//! in the thread where it arrives. Everything else goes through this queue.

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
    /// Number of calculations that were cut off and still run.
    runs_on: Arc<AtomicUsize>,
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
        let at_once = configuration.at_once.map_or_else(cores, usize::from);
        Self {
            slots: Arc::new(Semaphore::new(at_once)),
            at_once,
            waiting: AtomicUsize::new(0),
            waiting_most: configuration.waiting,
            within: configuration.answer_within(),
            runs_on: Arc::default(),
        }
    }

    /// Does `work` when a slot is free.
    pub async fn answer<Answer: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let slot = self.slot().await?;
        self.work(slot, work).await
    }

    /// Does a part of work that has already been accepted and therefore must not be
    /// refused.
    pub async fn answer_part<Answer: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let slot = Arc::clone(&self.slots).acquire_owned().await.map_err(|_| stopping())?;
        self.work(slot, work).await
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

    async fn slot(&self) -> Result<OwnedSemaphorePermit, Problem> {
        if let Ok(slot) = Arc::clone(&self.slots).try_acquire_owned() {
            return Ok(slot);
        }
        let before = self.waiting.fetch_add(1, Ordering::Relaxed);
        let _waiting = Waiting(&self.waiting);
        if before >= self.waiting_most {
            return Err(self.too_busy());
        }
        match timeout(self.within, Arc::clone(&self.slots).acquire_owned()).await {
            Ok(slot) => slot.map_err(|_| stopping()),
            Err(_) => Err(self.too_busy()),
        }
    }

    async fn work<Answer: Send + 'static>(
        &self,
        slot: OwnedSemaphorePermit,
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

    fn too_long(&self) -> Problem {
        let detail = format!(
            "The calculation was cut off after {} s, the maximum for this service. Ask for less \
             at once: fewer draws, sumps or stocks, or a shorter horizon.",
            self.within.as_secs()
        );
        Problem::plain(ProblemKind::TooLong, detail)
    }
}

fn stopping() -> Problem {
    Problem::plain(ProblemKind::Stopping, ProblemKind::Stopping.row().page)
}
