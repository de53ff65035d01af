//! Documents without their types: where something stands in one, what may stand
//! there, and how what serialises is walked through or read along a tree.

mod leaf_reader;
mod leaf_writer;
mod pointer;
mod rescale;
mod schema;
mod shape;
mod title;

pub use leaf_reader::{LeafSource, LeafValue, Misread, Reader, Tree};
pub use leaf_writer::{LeafSink, write_leaves};
pub use pointer::Pointer;
pub use rescale::{OutOfBounds, rescale_alike};
pub use schema::{ENTRIES_MOST, reference, tagged, type_of};
pub use shape::{Lengths, Members, NamedMember, Others, Shape};
pub use title::{in_words, without_its_unit};
