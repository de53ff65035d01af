//! Feeds the reader of tables.

#![no_main]

libfuzzer_sys::fuzz_target!(|input: &[u8]| sumpwright_fuzz::csv(input));
