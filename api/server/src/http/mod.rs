//! What every answer over HTTP has in common.
//!
//! - [`gate`]: what every request passes on the way in and on the way out
//! - [`door`]: what stands at an address, and who may go in
//! - [`options`]: what a query may say besides the question
//! - [`mod@format`]: what an answer comes as, and what a caller accepts
//! - [`render`]: an answer as bytes in a format
//! - [`respond`]: answers and problems as responses
//! - [`html`]: the shell of a page, and what a page may do in a browser

pub mod door;
pub mod format;
pub mod gate;
pub mod html;
pub mod options;
pub mod render;
pub mod respond;
