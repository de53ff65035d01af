//! A batch made of stocks.

mod published;
