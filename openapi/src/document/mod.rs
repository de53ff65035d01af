//! The OpenAPI document, drawn up from the catalogue.
//!
//! # Decisions
//!
//! - **A branch of a choice requires its tag in an `allOf` beside its members**, and has it by default. That
//!   is the same to a validator. To generators it makes a difference: in Rust the choice itself writes and
//!   reads the tag, and a branch that had to have it too would write it twice and miss it when it reads.
//! - **The document stays small** (a test holds it), because generators, browsers and reviewers read all of
//!   it: what stands twice is a component that is referred to, how a kind of quantity is rescaled stands once in
//!   `x-quantities` (a number itself has the codes of its units alone), an answer's example is shown where it is short, and the text fills its lines.
//! - **A number is written out where it is used**, not referred to: to generators a reference has no
//!   description of its own, and the description is what a person reads.
//! - **Bounds in the schema hold for either system** of units; the exact ones are checked after
//!   rescaling, in the words of the caller's units.

mod answers;
mod compact;
pub mod components;
mod descriptions;
mod drawing;
mod drawn;
mod envelope;
mod headers;
mod headings;
pub mod index;
mod lists;
mod many;
mod names;
mod not_given;
mod operations;
pub mod parameters;
mod problems;
mod published;
mod quantities;
mod titles;

pub use drawing::publish;
pub use names::{ADDRESS_KEY, PROBLEM, QUERY_OPTIONS, question_name, record_name};
pub use published::Published;
