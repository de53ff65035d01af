//! The OpenAPI document, drawn up from the catalogue.

mod answers;
pub mod components;
mod drawing;
mod drawn;
mod envelope;
mod headers;
mod headings;
pub mod index;
mod names;
mod operations;
pub mod parameters;
mod published;
mod titles;

pub use drawing::publish;
pub use names::{PROBLEM, QUERY_OPTIONS, question_name, record_name};
pub use published::Published;
