//! The parts that every answer over HTTP shares.
//!
//! - [`gate`]: passed by every request on its way in and on its way out
//! - [`door`]: the kind of an address, and who may use it; `address_key`: a key that stands in one
//! - [`options`]: options of a query besides the question
//! - [`mod@format`]: the formats of an answer, and the caller's `Accept`
//! - `query`: an address whose letters can be read
//! - [`render`]: an answer as bytes in a format
//! - [`respond`]: answers and problems as responses
//! - `cell`, `person`: problems told to a spreadsheet's cell, and to a person in a browser
//! - `kept`: what a caller has kept and takes packed
//! - `packing`: what goes out packed, and what caches are told; `cors`: pages of other sites
//! - [`built_in`]: files that are part of the program
//! - [`html`]: the policy for pages in a browser

mod address_key;
pub mod built_in;
mod cell;
pub(crate) mod cors;
pub mod door;
pub mod format;
pub mod gate;
pub mod html;
pub(crate) mod kept;
pub mod options;
mod packing;
mod person;
pub(crate) mod query;
pub mod render;
pub mod respond;
