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
    /// This share of what an entry says was added never went in.
    Missing { at: usize },
    /// So many litres of water a day run in after an entry.
    Ingress { from: usize },
    /// The premix added at these entries had so much more concentrate than
    /// written, as a share.
    Premix { from: usize, to: usize },
    /// Strengths from an entry on are scaled by the exponential of this.
    Factor { from: usize },
    /// Strengths from an entry on rise by the exponential of so much a day.
    Drift { from: usize },
    /// A volume reading is so much too high.
    Volume { at: usize },
    /// A strength reading is so much too high.
    Strength { at: usize },
}

impl Suspect {
    /// The entry at which a fault begins that lasts.
    pub(super) fn begins(&self) -> Option<usize> {
        match self {
            Self::Ingress { from } | Self::Factor { from } | Self::Drift { from } => Some(*from),
            _ => None,
        }
    }

    /// The same fault, begun at another entry.
    pub(super) fn beginning_at(self, from: usize) -> Self {
        match self {
            Self::Ingress { .. } => Self::Ingress { from },
            Self::Factor { .. } => Self::Factor { from },
            Self::Drift { .. } => Self::Drift { from },
            other => other,
        }
    }
}

/// What a suspect is called when it is found.
pub(super) fn kind(suspect: &Suspect) -> SuspectKind {
    match suspect {
        Suspect::Addition { .. } | Suspect::Concentrate { .. } => SuspectKind::UnrecordedAddition,
        Suspect::Removal { .. } => SuspectKind::UnrecordedRemoval,
        Suspect::Missing { .. } => SuspectKind::AdditionMissing,
        Suspect::Ingress { .. } => SuspectKind::WaterIngress,
        Suspect::Premix { .. } => SuspectKind::PremixOff,
        Suspect::Factor { .. } => SuspectKind::FactorOff,
        Suspect::Drift { .. } => SuspectKind::InstrumentDrift,
        Suspect::Volume { .. } => SuspectKind::VolumeMisread,
        Suspect::Strength { .. } => SuspectKind::ConcentrationMisread,
    }
}

/// How much better than the rest a fault has to explain a log to be named, in the sum of
/// squares: between two that do as well, what happens every week is likelier. Common practice,
/// no source: a bucket is poured in more often than one premix is mixed wrong, and what was
/// mixed wrong once acts just as a bucket of the difference does.
pub(super) fn rarity(suspect: &Suspect) -> f64 {
    match suspect {
        Suspect::Premix { from, to } if from == to => 6.0,
        Suspect::Premix { .. } => 3.0,
        Suspect::Addition { .. } | Suspect::Drift { .. } => 1.0,
        _ => 0.0,
    }
}

/// Whether a fault of this size can be.
pub(super) fn possible(suspect: &Suspect, amount: f64) -> bool {
    match suspect {
        Suspect::Addition { .. } | Suspect::Removal { .. } | Suspect::Ingress { .. } => {
            amount > 0.0
        }
        // All of it, and its noise.
        Suspect::Missing { .. } => (0.0..=1.25).contains(&amount),
        // Water where premix was meant is −1, and its noise lies on both sides.
        Suspect::Premix { .. } => amount >= -1.5,
        Suspect::Concentrate { .. }
        | Suspect::Factor { .. }
        | Suspect::Drift { .. }
        | Suspect::Volume { .. }
        | Suspect::Strength { .. } => true,
    }
}
