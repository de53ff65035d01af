//! Feeds the reader of queries.

#![no_main]

libfuzzer_sys::fuzz_target!(|input: &[u8]| sumpwright_fuzz::flat(input));
