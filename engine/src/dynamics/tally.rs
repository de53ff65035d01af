//! What has come and gone in all, by where it came from and where it went.

use super::amounts::Amounts;

/// What has come and gone in all.
#[derive(Debug, Clone, PartialEq)]
pub struct Tally {
    /// Premix or water fed, L, at set times.
    pub weak: f64,
    /// Concentrate fed, L, at set times.
    pub strong: f64,
    /// Put in otherwise.
    pub added: Amounts,
    /// Taken out otherwise.
    pub removed: Amounts,
    /// Oil from the machine.
    pub leaked: Amounts,
    /// Water to the air.
    pub evaporated: Amounts,
    /// Fluid on chips and parts.
    pub carried_off: Amounts,
    /// Fluid discharged.
    pub discharged: Amounts,
    /// Oil skimmed.
    pub skimmed: Amounts,
}

impl Tally {
    pub(super) fn nothing(followed: usize) -> Self {
        let nothing = || Amounts::nothing(followed);
        Self {
            weak: 0.0,
            strong: 0.0,
            added: nothing(),
            removed: nothing(),
            leaked: nothing(),
            evaporated: nothing(),
            carried_off: nothing(),
            discharged: nothing(),
            skimmed: nothing(),
        }
    }
}
