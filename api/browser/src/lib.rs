//! The engine as the page calls it where no service answers, for WebAssembly.
//!
//! `answer.rs` answers a document as the service does, `boundary.rs` is what a page sees of it:
//! functions that take and give nothing but numbers, and the memory in which both sides read.
//! `tests/tools/browser/build` builds it; the page's `engine-worker.js` calls it.
//!
//! # Decisions
//!
//! - **Nothing is imported.** There are no generated bindings: six functions are less than a generator,
//!   its version and its file. The one crate that asked for the browser's clock gets one that stands still
//!   (`web-time/`).
//! - **A panic ends the module.** This target does not unwind. The panic's problem is written before it
//!   does; the page reads it, throws the module's memory away and starts it afresh.
//! - **Sums that overflow panic.** Sizes have 32 bits here and 64 in the service: what would wrap
//!   silently must not become a number.

mod answer;
mod boundary;
