//! The request limit of each caller.

use crate::configuration::Configuration;
use governor::clock::{Clock, DefaultClock};
use governor::middleware::StateInformationMiddleware;
use governor::state::keyed::DefaultKeyedStateStore;
use governor::{Quota, RateLimiter};
use std::num::NonZeroU32;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

/// Name of the policy in the headers.
const POLICY: &str = "requests";
/// Length of the window that the limit applies to, in seconds.
const WINDOW: u32 = 60;
/// Number of requests after which idle callers are forgotten.
const FORGET_AFTER: u32 = 10_000;

type Limiter = RateLimiter<
    Arc<str>,
    DefaultKeyedStateStore<Arc<str>>,
    DefaultClock,
    StateInformationMiddleware,
>;

/// The request limit of each caller.
pub struct RateLimits {
    limiter: Limiter,
    a_minute: NonZeroU32,
    asked: AtomicU32,
}

/// The requests a caller has left, or the time it has to wait.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RateStanding {
    a_minute: u32,
    left: u32,
    /// Seconds to wait before the next request, if this one was over the limit.
    pub wait: Option<u64>,
}

impl RateLimits {
    /// The limit of a configuration, if it has one.
    #[must_use]
    pub fn of(configuration: &Configuration) -> Option<Self> {
        let a_minute = configuration.requests_per_minute?;
        let limiter = RateLimiter::keyed(Quota::per_minute(a_minute)).with_middleware();
        Some(Self { limiter, a_minute, asked: AtomicU32::new(0) })
    }

    /// Counts a request of `caller`.
    pub fn count(&self, caller: &Arc<str>) -> RateStanding {
        if self.asked.fetch_add(1, Ordering::Relaxed) % FORGET_AFTER == FORGET_AFTER - 1 {
            self.limiter.retain_recent();
        }
        let a_minute = self.a_minute.get();
        match self.limiter.check_key(caller) {
            Ok(state) => {
                RateStanding { a_minute, left: state.remaining_burst_capacity(), wait: None }
            }
            Err(not_until) => {
                let wait = not_until.wait_time_from(DefaultClock::default().now());
                // Rounded up to whole seconds.
                let wait = wait.as_secs() + u64::from(wait.subsec_nanos() > 0);
                RateStanding { a_minute, left: 0, wait: Some(wait.max(1)) }
            }
        }
    }
}

impl RateStanding {
    /// Requests allowed per minute.
    #[must_use]
    pub fn a_minute(&self) -> u32 {
        self.a_minute
    }

    /// `RateLimit-Policy` and `RateLimit` of draft-ietf-httpapi-ratelimit-headers:
    /// the quota of a window, the requests left, and the seconds until the full
    /// quota is available again.
    #[must_use]
    pub fn headers(&self) -> [(&'static str, String); 2] {
        let used = self.a_minute - self.left;
        let whole = (u64::from(used) * u64::from(WINDOW)).div_ceil(u64::from(self.a_minute));
        [
            ("ratelimit-policy", format!("\"{POLICY}\";q={};w={WINDOW}", self.a_minute)),
            ("ratelimit", format!("\"{POLICY}\";r={};t={whole}", self.left)),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_caller_has_a_limit_of_its_own() {
        let requests_per_minute = NonZeroU32::new(3);
        let configuration = Configuration { requests_per_minute, ..Configuration::default() };
        let rates = RateLimits::of(&configuration).expect("there is a limit");
        let (one, other): (Arc<str>, Arc<str>) = ("one".into(), "other".into());
        let left = [rates.count(&one), rates.count(&one), rates.count(&one)].map(|s| s.left);
        assert_eq!(left, [2, 1, 0]);
        let refused = rates.count(&one);
        // A request comes back every 20 s.
        assert!(refused.wait.is_some_and(|wait| (1..=20).contains(&wait)), "{refused:?}");
        assert_eq!(refused.headers()[1].1, "\"requests\";r=0;t=60");
        let other = rates.count(&other);
        assert_eq!((other.left, other.wait), (2, None));
        assert_eq!(other.headers()[0].1, "\"requests\";q=3;w=60");
        assert_eq!(other.headers()[1].1, "\"requests\";r=2;t=20");
    }
}
