//! Who may call, how often, and by which certificate.

pub mod keys;
pub mod rates;
pub mod tls;
