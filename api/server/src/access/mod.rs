//! Access: keys, request limits and the TLS certificate.

pub(crate) mod caller;
pub mod keys;
pub mod rates;
pub mod tls;
