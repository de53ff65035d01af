//! The feed, what becomes of it, and what was taken out of it.

use super::answer::TreatedFluid;
use super::treated::Treated;
use super::{CONCENTRATE, SeparatingStage, Separation};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::fluid::properties::{ByProperty, Carried, PropertyName, TRAMP_OIL, spoken};
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::quantity::{Concentration, Content, Mass, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};
use std::collections::BTreeMap;

/// The most that a litre can carry, mg/L.
const CONTENT_MOST: f64 = 1e6;

/// The streams of an answer.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Streams {
    feed: Fluid,
    /// What came in while the tank went round.
    inflow: Option<Fluid>,
    cleaned: Fluid,
    /// What was taken out, or the retentate of a membrane.
    out: Fluid,
    by_membrane: bool,
}

/// What a litre weighs, kg: of the fluid itself and of the oil in it.
#[derive(Debug, Clone, Copy)]
struct Weights {
    fluid: f64,
    oil: f64,
}

impl Weights {
    /// A fluid that carries oil and `matter` on top of its own weight.
    fn fluid(
        self,
        (volume, concentrate): (f64, f64),
        tramp_oil: Option<f64>,
        matter: BTreeMap<PropertyName, f64>,
    ) -> Fluid {
        let oil = tramp_oil.unwrap_or(0.0);
        let carried: f64 = matter.values().sum();
        let mass = (volume - oil) * self.fluid + oil * self.oil + carried;
        Fluid { volume, concentrate, tramp_oil, mass, matter }
    }
}

impl Separation {
    /// The streams; none without a feed.
    pub(super) fn streams(&self, treated: &[Treated<'_>]) -> Result<Option<Streams>, Refusal> {
        let Some(feed) = &self.feed else { return Ok(None) };
        let density = self.separator.carrier("/separator")?.0 / 1000.0;
        let find = |name: &str| treated.iter().find(|t| t.graded.particles.property == name);
        let oil_density = find(TRAMP_OIL).and_then(|t| t.graded.particles.density);
        let weights = Weights { fluid: density, oil: oil_density.map_or(density, Quantity::get) };
        let v = feed.volume.get();
        let c = v * feed.concentration.map_or(0.0, Quantity::get) / 100.0;
        let oil = feed.properties.tramp_oil.map(|oil| v * oil.get() / 100.0);
        let matter: BTreeMap<PropertyName, f64> = feed
            .properties
            .matter
            .iter()
            .map(|(name, content)| (name.clone(), v * content.get() * KILOGRAMS_PER_MILLIGRAM))
            .collect();
        let before = weights.fluid((v, c), oil, matter.clone());
        if let SeparatingStage::Ultrafiltration(membrane) = &self.separator.stage {
            let vcf = membrane.volume_concentration_factor.get();
            // What is not followed goes with the water.
            let kept = |name: &str| match find(name) {
                Some(_) => self.separator.held_back(name),
                None => 1.0 / vcf,
            };
            let through = |name: &str| match find(name) {
                Some(_) => self.separator.let_through(name),
                None => 1.0 - 1.0 / vcf,
            };
            let held = self.separator.held_back(CONCENTRATE);
            let gone = self.separator.let_through(CONCENTRATE);
            let share_of = |by: &dyn Fn(&str) -> f64| {
                let matter = matter.iter().map(|(name, kg)| (name.clone(), kg * by(name)));
                (oil.map(|oil| oil * by(TRAMP_OIL)), matter.collect())
            };
            let (oil_kept, matter_kept) = share_of(&kept);
            let (oil_through, matter_through) = share_of(&through);
            let out = weights.fluid((v / vcf, c * held), oil_kept, matter_kept);
            let cleaned =
                weights.fluid((v * (1.0 - 1.0 / vcf), c * gone), oil_through, matter_through);
            check_retentate(&out)?;
            return Ok(Some(Streams {
                feed: before,
                inflow: None,
                cleaned,
                out,
                by_membrane: true,
            }));
        }
        let hours = self.recirculation.as_ref().map_or(0.0, |r| r.hours.get());
        let follow = |name: &str, there: f64, litre: f64| {
            let Some(t) = find(name) else { return (0.0, there, 0.0) };
            let came_in = t.rate * hours / litre;
            let left = there * t.there.0 + came_in * t.came_in.0;
            (came_in, left, there * t.there.1 + came_in * t.came_in.1)
        };
        let comes_in = |name: &str| find(name).is_some_and(|t| t.rate > 0.0);
        let oil_of = |pick: fn((f64, f64, f64)) -> f64| {
            (oil.is_some() || comes_in(TRAMP_OIL))
                .then(|| pick(follow(TRAMP_OIL, oil.unwrap_or(0.0), weights.oil)))
        };
        let others = treated.iter().filter(|t| t.rate > 0.0).map(|t| &t.graded.particles.property);
        let mut all = matter.clone();
        for name in others.filter(|name| *name != TRAMP_OIL) {
            all.entry(name.into()).or_insert(0.0);
        }
        let matter_of = |pick: fn((f64, f64, f64)) -> f64| -> BTreeMap<PropertyName, f64> {
            all.iter().map(|(name, kg)| (name.clone(), pick(follow(name, *kg, 1.0)))).collect()
        };
        let part = |pick: fn((f64, f64, f64)) -> f64| {
            let oil = oil_of(pick);
            weights.fluid((oil.unwrap_or(0.0), 0.0), oil, matter_of(pick))
        };
        let came_in = part(|amounts| amounts.0);
        let oil_left = oil_of(|amounts| amounts.1);
        let volume = v - oil.unwrap_or(0.0) + oil_left.unwrap_or(0.0);
        let cleaned = weights.fluid((volume, c), oil_left, matter_of(|amounts| amounts.1));
        let out = part(|amounts| amounts.2);
        let inflow = (came_in.mass > 0.0).then_some(came_in);
        Ok(Some(Streams { feed: before, inflow, cleaned, out, by_membrane: false }))
    }
}

/// Refuses a retentate that would be fuller than full.
fn check_retentate(retentate: &Fluid) -> Result<(), Refusal> {
    let at = "/separator/stage/volume_concentration_factor";
    let mut faults = Faults::default();
    let filled = retentate.concentrate + retentate.tramp_oil.unwrap_or(0.0);
    let share = filled / retentate.volume * 100.0;
    if share > 100.0 * (1.0 + 1e-12) {
        let detail = sentence!(
            "Brought down so far, concentrate and oil would come to {} of the retentate, more than \
             all of it. Stop at a smaller factor.",
            Concentration::measure_of(share)
        );
        faults.add(at, detail);
    }
    for (name, kilograms) in &retentate.matter {
        let content = kilograms / KILOGRAMS_PER_MILLIGRAM / retentate.volume;
        if content > CONTENT_MOST {
            let detail = sentence!(
                "Brought down so far, the retentate would carry {} of {}, more than it can. Stop at \
                 a smaller factor.",
                Content::measure_of(content),
                spoken(name)
            );
            faults.add(at, detail);
        }
    }
    faults.or_refuse(Kind::Unreachable)
}

impl Streams {
    /// The cleaned fluid, the retentate, and what was taken out.
    pub(super) fn parts(
        &self,
    ) -> Result<(Option<TreatedFluid>, Option<TreatedFluid>, Carried), Refusal> {
        let retentate = self.by_membrane.then(|| state(&self.out)).transpose()?;
        let matter = self.out.matter.iter().filter(|(_, kilograms)| **kilograms > 0.0);
        let matter = matter.map(|(name, kg)| Ok((name.clone(), Mass::of(*kg)?)));
        let taken_out = ByProperty {
            tramp_oil: self.out.tramp_oil.map(Volume::of).transpose()?,
            matter: matter.collect::<Result<_, Refusal>>()?,
        };
        Ok((Some(state(&self.cleaned)?), retentate, taken_out))
    }

    pub(super) fn balance(&self) -> Result<Balance, Refusal> {
        let mut streams = vec![("feed", StreamDirection::In, &self.feed)];
        streams.extend(self.inflow.as_ref().map(|inflow| ("inflow", StreamDirection::In, inflow)));
        let out = if self.by_membrane { "retentate" } else { "taken out" };
        streams.extend([
            ("cleaned fluid", StreamDirection::Stays, &self.cleaned),
            (out, StreamDirection::Out, &self.out),
        ]);
        Balance::close(&streams)
    }
}

fn state(fluid: &Fluid) -> Result<TreatedFluid, Refusal> {
    Ok(TreatedFluid {
        volume: Volume::of(fluid.volume)?,
        concentration: Concentration::of(fluid.concentration().clamp(0.0, 100.0))?,
        properties: fluid.properties()?,
    })
}
