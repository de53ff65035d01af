//! The job: a sump as it is and as it is to be.

/// The sump as it is and as it is to be: litres and % by volume.
#[derive(Debug, Clone, Copy)]
pub(super) struct Job {
    pub(super) v_0: f64,
    pub(super) c_0: f64,
    pub(super) v_t: f64,
    pub(super) c_t: f64,
    /// The band that counts as right; none where only the target does.
    pub(super) band: Option<(f64, f64)>,
    /// The strongest that may be poured.
    pub(super) strongest: f64,
    /// Whether a machine works with it, so that weak make-up thins it day by day.
    pub(super) works: bool,
}

impl Job {
    /// Whether a strength counts as right.
    pub(super) fn is_in_band(&self, c: f64) -> bool {
        // A reading on the very mark is in the band, whatever binary fractions make of it.
        const ROUNDING: f64 = 1e-9;
        self.band.is_some_and(|(low, high)| c >= low - ROUNDING && c <= high + ROUNDING)
    }

    /// Whether what is drained is not too weak, and so good fluid.
    pub(super) fn drains_good_fluid(&self) -> bool {
        self.c_0 >= self.c_t
    }

    /// The strongest that counts as right.
    pub(super) fn upper(&self) -> f64 {
        self.band.map_or(self.c_t, |(_, high)| high)
    }

    /// What has to leave because the sump holds more than its target, L.
    pub(super) fn overfull(&self) -> f64 {
        (self.v_0 - self.v_t).max(0.0)
    }

    /// What fits in before anything else leaves, L.
    pub(super) fn room(&self) -> f64 {
        (self.v_t - self.v_0).max(0.0)
    }

    /// What may be drained besides, L.
    pub(super) fn may_drain(&self) -> f64 {
        self.v_0 - self.overfull()
    }

    /// The concentrate that is there before anything is added, in litres times
    /// % by volume.
    pub(super) fn kept(&self) -> f64 {
        self.c_0 * self.may_drain()
    }
}
