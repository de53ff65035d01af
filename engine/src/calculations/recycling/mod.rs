//! Dirty fluid made fit again: batches, what is taken out, the recycler's week and the loop.

pub mod blend;
pub mod fluid_loop;
pub mod recycler;
pub mod separation;
