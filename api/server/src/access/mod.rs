//! Access: keys, request limits and the TLS certificate.

pub mod keys;
pub mod rates;
pub mod tls;
