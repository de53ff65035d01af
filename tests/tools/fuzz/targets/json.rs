//! Feeds the reader of documents.

#![no_main]

libfuzzer_sys::fuzz_target!(|input: &[u8]| sumpwright_fuzz::json(input));
