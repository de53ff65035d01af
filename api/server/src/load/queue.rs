//! The queue of calculations that may take long.
//!
//! So many are answered at once, each on a thread of its own; so many wait for
//! their turn; more are sent away at once and told when to come again. A
//! calculation that takes longer than it may is cut off. What is quick is answered
//! where it arrives and never comes here.
//!
//! **Quick questions never queue.** `IS_QUICK` says that a short document is answered in microseconds,
//! where it arrives. All else goes through `queue.rs`: so many at once, so many waiting, the rest sent away
//! with 503. A slot is held until the thread is free, not until the caller has been answered.

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
    /// What goes on although it was cut off.
    runs_on: Arc<AtomicUsize>,
}

/// Raises its flag when it goes.
struct Raising(Flag);

impl Drop for Raising {
    fn drop(&mut self) {
        self.0.raise();
    }
}

/// One that waits, for as long as it does.
struct Waiting<'a>(&'a AtomicUsize);

impl Drop for Waiting<'_> {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::Relaxed);
    }
}

impl Queue {
    /// A queue as long as the configuration says.
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

    /// Does `work` when its turn comes.
    pub async fn answer<Answer: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let slot = self.slot().await?;
        self.work(slot, work).await
    }

    /// Does a part of something that has been taken already, and so has no need
    /// to be sent away.
    pub async fn answer_part<Answer: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<Answer, Problem> + Send + 'static,
    ) -> Result<Answer, Problem> {
        let slot = Arc::clone(&self.slots).acquire_owned().await.map_err(|_| stopping())?;
        self.work(slot, work).await
    }

    /// How many are being answered, and how many wait.
    #[must_use]
    pub fn load(&self) -> (usize, usize) {
        let answering = self.at_once.saturating_sub(self.slots.available_permits());
        (answering, self.waiting.load(Ordering::Relaxed))
    }

    /// How many hold a slot although they were cut off: they have not looked at their flag
    /// since.
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
            "{} calculations are being answered and {} more wait, as many as the service takes. \
             Send the request again in a moment.",
            self.at_once, self.waiting_most
        );
        Problem::plain(ProblemKind::TooBusy, detail)
    }

    fn too_long(&self) -> Problem {
        let detail = format!(
            "The calculation was cut off after {} s, the most that one may take here. Ask for less \
             at once: fewer draws, sumps or stocks, or a shorter horizon.",
            self.within.as_secs()
        );
        Problem::plain(ProblemKind::TooLong, detail)
    }
}

fn stopping() -> Problem {
    Problem::plain(ProblemKind::Stopping, ProblemKind::Stopping.row().page)
}
