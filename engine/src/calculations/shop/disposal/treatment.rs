//! Ultrafiltration or evaporation of what is left over, by volume reduction.
//!
//! With F the feed (L), R the retentate and P what passes:
//!
//! 1. R = F/VCF, P = F − R
//! 2. what is held back in full stays in R: `c_r` = `c_f`·VCF
//! 3. what passes freely (salts, by ultrafiltration) goes as the water goes

use super::ledger::{CONCENTRATE, MATTER, OIL, SOLIDS, WATER, WasteLedger, volume};
use super::question::OnSiteTreatment;
use super::stream::{MonthlyFlow, Timing, WasteStream};
use crate::quantity::{Quantity, Ratio, Share};
use crate::sentence;
use crate::text::{Kind, Refusal};

/// The streams that are treated.
const FEED: [WasteStream; 2] = [WasteStream::SpentFluid, WasteStream::WashWater];

impl OnSiteTreatment {
    pub(super) fn volume_reduction(&self) -> f64 {
        match self {
            Self::Ultrafiltration(uf) => uf.volume_reduction.get(),
            Self::Evaporation(evaporation) => evaporation.volume_reduction.get(),
        }
    }

    /// How much of the concentrate stays behind, as a share of 1.
    fn concentrate_retained(&self) -> f64 {
        match self {
            Self::Ultrafiltration(uf) => uf.concentrate_retained.map_or(1.0, Share::fraction),
            Self::Evaporation(_) => 1.0,
        }
    }

    /// Turns the feed of every month into retentate and permeate.
    pub(super) fn treat(&self, ledger: &mut WasteLedger) -> Result<(), Refusal> {
        let mut reachable = f64::INFINITY;
        for month in 0..ledger.months {
            for timing in Timing::BOTH {
                let mut feed = vec![0.0; ledger.width];
                for stream in FEED {
                    let row = ledger.row_mut(month, MonthlyFlow::Waste(stream), timing);
                    super::ledger::add(&mut feed, row, 1.0);
                    row.fill(0.0);
                }
                let (held, permeate, most) = self.split(&feed);
                reachable = reachable.min(most);
                for (stream, row) in
                    [(WasteStream::Retentate, &held), (WasteStream::Permeate, &permeate)]
                {
                    ledger.row_mut(month, MonthlyFlow::Waste(stream), timing).copy_from_slice(row);
                }
            }
        }
        if self.volume_reduction() > reachable * (1.0 + 1e-9) {
            return Err(out_of_reach(reachable));
        }
        Ok(())
    }

    /// Retentate and permeate of a feed, and the greatest volume reduction that
    /// leaves room for what is held back.
    fn split(&self, feed: &[f64]) -> (Vec<f64>, Vec<f64>, f64) {
        let f = volume(feed);
        let mut retentate = vec![0.0; feed.len()];
        if f == 0.0 {
            return (retentate.clone(), retentate, f64::INFINITY);
        }
        retentate[CONCENTRATE] = feed[CONCENTRATE] * self.concentrate_retained();
        retentate[OIL] = feed[OIL];
        retentate[SOLIDS] = feed[SOLIDS];
        let held = retentate[CONCENTRATE] + retentate[OIL];
        retentate[WATER] = (f / self.volume_reduction() - held).clamp(0.0, feed[WATER]);
        let with_water = match self {
            Self::Ultrafiltration(_) if feed[WATER] > 0.0 => retentate[WATER] / feed[WATER],
            _ => 1.0,
        };
        for (cell, matter) in retentate[MATTER..].iter_mut().zip(&feed[MATTER..]) {
            *cell = matter * with_water;
        }
        let permeate = feed.iter().zip(&retentate).map(|(all, held)| all - held).collect();
        (retentate, permeate, f / held)
    }
}

fn out_of_reach(reachable: f64) -> Refusal {
    let detail = sentence!(
        "What is held back, concentrate and tramp oil, leaves no room for so great a volume \
         reduction: in the strongest month at most {} can be reached. Ask for no more than that.",
        Ratio::measure_of(reachable)
    );
    Refusal::new(Kind::Unreachable, "/treatment/volume_reduction", detail)
}
