//! The clock that the linear programmes look at: the system's, and in a browser one that stands still.
//!
//! It stands for a crate of this name, which would call the browser's clock through generated
//! bindings. Nothing here needs that clock: a limit of time only divides the work of a linear programme
//! into slices, and no answer depends on how it is divided.

#[cfg(not(all(target_family = "wasm", target_os = "unknown")))]
pub use std::time::*;

#[cfg(all(target_family = "wasm", target_os = "unknown"))]
pub use standing::{Duration, Instant};

#[cfg(all(target_family = "wasm", target_os = "unknown"))]
mod standing {
    pub use std::time::Duration;

    /// A moment after the start of a clock that stands still.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
    pub struct Instant(Duration);

    impl Instant {
        /// The start.
        #[must_use]
        pub fn now() -> Self {
            Self(Duration::ZERO)
        }

        /// No time passes.
        #[must_use]
        pub fn elapsed(&self) -> Duration {
            Duration::ZERO
        }

        /// The moment so much later.
        #[must_use]
        pub fn checked_add(&self, later: Duration) -> Option<Self> {
            self.0.checked_add(later).map(Self)
        }
    }
}
