//! What leaves on the way, as streams.

use super::treatment::Treatment;
use super::{Recycler, RecyclerStage, StageRemoval, StageWaste, StageWasteKind};
use crate::fluid::Fluid;
use crate::fluid::properties::{ByProperty, Properties};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Mass, Quantity, Volume};
use crate::text::Refusal;

/// A stream of waste on its way to the answer and to the balance.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct WasteFlow {
    /// The stage it leaves at.
    stage: usize,
    kind: StageWasteKind,
    pub(super) fluid: Fluid,
    /// Whether it is water that came in as it goes out.
    pub(super) rinses: bool,
    /// What it is called in the balance.
    pub(super) name: String,
    /// What the water was called when it came in.
    pub(super) enters: String,
}

/// What each stage removes in `n` passes or turnovers, then what each is rinsed
/// with.
pub(super) fn streams(
    question: &Recycler,
    removed: &[StageRemoval],
    treatment: &Treatment,
    n: f64,
) -> Vec<WasteFlow> {
    let mut streams = Vec::new();
    for (s, stage) in question.stages.iter().enumerate() {
        let fluid = treatment.removed(s, n);
        if fluid.volume > 0.0 || fluid.mass > 0.0 {
            let kind = kind(stage, &removed[s]);
            let name = format!("{} of {}", words(kind), stage.name);
            streams.push(WasteFlow {
                stage: s,
                kind,
                fluid,
                rinses: false,
                name,
                enters: String::new(),
            });
        }
    }
    for (s, stage) in question.stages.iter().enumerate() {
        let litres = stage.rinse.map_or(0.0, Quantity::get);
        if litres > 0.0 {
            let fluid = Fluid::of(litres, 0.0, DENSITY_AT_20_CELSIUS, &Properties::default());
            let name = format!("spent rinse water of {}", stage.name);
            let enters = format!("rinse water for {}", stage.name);
            let kind = StageWasteKind::Rinse;
            streams.push(WasteFlow { stage: s, kind, fluid, rinses: true, name, enters });
        }
    }
    streams
}

fn kind(stage: &RecyclerStage, removed: &StageRemoval) -> StageWasteKind {
    stage.waste.unwrap_or(if removed.tramp_oil.is_some_and(|share| share.get() > 0.0) {
        StageWasteKind::OilPhase
    } else {
        StageWasteKind::Sludge
    })
}

fn words(kind: StageWasteKind) -> &'static str {
    match kind {
        StageWasteKind::OilPhase => "oil phase",
        StageWasteKind::Sludge => "sludge",
        StageWasteKind::Rinse => "reject",
    }
}

/// The streams as they are answered.
pub(super) fn answer(
    question: &Recycler,
    streams: &[WasteFlow],
) -> Result<Vec<StageWaste>, Refusal> {
    let waste = streams.iter().map(|stream| {
        let fluid = &stream.fluid;
        let matter = fluid.matter.iter().filter(|(_, kilograms)| **kilograms > 0.0);
        let matter = matter.map(|(name, kilograms)| Ok((name.clone(), Mass::of(*kilograms)?)));
        let oil = fluid.tramp_oil.filter(|oil| *oil > 0.0);
        Ok(StageWaste {
            stage: question.stages[stream.stage].name.to_string(),
            kind: stream.kind,
            volume: Volume::of(fluid.volume)?,
            mass: Mass::of(fluid.mass)?,
            concentrate: Volume::of(fluid.concentrate)?,
            carried: ByProperty {
                tramp_oil: oil.map(Volume::of).transpose()?,
                matter: matter.collect::<Result<_, Refusal>>()?,
            },
        })
    });
    waste.collect()
}
