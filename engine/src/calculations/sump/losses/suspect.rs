//! The faults that a log can have.

use super::answer::SuspectKind;

/// A fault that a log can have; how large it is is an unknown of the fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Suspect {
    /// So many litres of this strength (%) went in after an entry.
    Addition { after: usize, strength: f64 },
    /// So many litres of concentrate went in with what went in after an entry.
    /// Never tried alone: it frees the strength of an addition.
    Concentrate { after: usize },
    /// So many litres went out after an entry.
    Removal { after: usize },
    /// So many litres of water a day run in after an entry.
    Ingress { from: usize },
    /// The premix added at these entries had so much more concentrate than
    /// written, as a share.
    Premix { from: usize, to: usize },
    /// Strengths from an entry on are scaled by the exponential of this.
    Factor { from: usize },
    /// A volume reading is so much too high.
    Volume { at: usize },
    /// A strength reading is so much too high.
    Strength { at: usize },
}

/// What a suspect is called when it is found.
pub(super) fn kind(suspect: &Suspect) -> SuspectKind {
    match suspect {
        Suspect::Addition { .. } | Suspect::Concentrate { .. } => SuspectKind::UnrecordedAddition,
        Suspect::Removal { .. } => SuspectKind::UnrecordedRemoval,
        Suspect::Ingress { .. } => SuspectKind::WaterIngress,
        Suspect::Premix { .. } => SuspectKind::PremixOff,
        Suspect::Factor { .. } => SuspectKind::FactorOff,
        Suspect::Volume { .. } => SuspectKind::VolumeMisread,
        Suspect::Strength { .. } => SuspectKind::ConcentrationMisread,
    }
}

/// Whether a fault of this size can be.
pub(super) fn possible(suspect: &Suspect, amount: f64) -> bool {
    match suspect {
        Suspect::Addition { .. } | Suspect::Removal { .. } | Suspect::Ingress { .. } => {
            amount > 0.0
        }
        // Water where premix was meant is −1, and its noise lies on both sides.
        Suspect::Premix { .. } => amount >= -1.5,
        Suspect::Concentrate { .. }
        | Suspect::Factor { .. }
        | Suspect::Volume { .. }
        | Suspect::Strength { .. } => true,
    }
}
