//! What a stage takes out of the fluid, from the sizes of what is in it.
//!
//! *Will the settling tank get the tramp oil out at 600 L/h, or does it take the
//! centrifuge? What is left, and how small is it?*
//!
//! With Q the throughput (m³/s), A the surface of a tank (m²), d a size (m), v its
//! velocity in the still fluid (m/s, [`sphere`](crate::handbook::sphere)), ρ and μ
//! density and viscosity of the fluid, ω the speed of a centrifuge (rad/s), g
//! gravity (m/s²):
//!
//! 1. tank: G(d) = min(1, v/(F·Q/A)), F the turbulence factor
//! 2. tubular bowl: Σ = ω²·π·L·(R₀² − R₁²)/(g·ln(R₀/R₁)), L its length, R₀ and R₁
//!    the radii of bowl and fluid surface (m)
//! 3. disc stack: Σ = 2·π·ω²·N·cot θ·(r₂³ − r₁³)/(3·g), N the gaps, θ the half
//!    angle, r₂ and r₁ the outer and inner radius (m)
//! 4. centrifuge: all of a size is taken out at Stokes' v = Q/Σ; what of smaller
//!    sizes is, by the way that they have gone when the fluid leaves
//! 5. removed in one pass: ∫ G(d) dm(d) over the distribution of sizes by mass
//! 6. a well-mixed tank of V (m³) recirculated for t (s), n = Q·t/V turnovers: of
//!    each size exp(−G·n) is left; what comes in at S (kg/s) adds
//!    S·(1 − exp(−G·n))/(Q·G) kg/m³, and settles at S/(Q·G)
//! 7. membrane: VCF = feed/retentate; the retentate keeps VCF^(R − 1) of what is
//!    rejected by the share R, so that c_r = c_f·VCF at R = 1
//!
//! Assumes particles few enough not to hinder each other (below about 1 % by
//! volume), spheres, and that what has reached the floor, the surface or the wall
//! stays there. Drops under high shear, foam, and oil held by emulsifier do not
//! obey it: what is emulsified shows as drops of a few micrometres.
//! Valid up to Reynolds 200,000 in a tank; in a centrifuge where Stokes holds.
//! Sources: Hazen's surface loading and Stokes, any handbook; API Publication 421
//! (1990) for F; Seader, Henley and Roper for (2); Ambler (1959) for (3); Gage and
//! Bidwell for (6).

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::text::{Refusal, Sentence, filed, said};

mod answer;
mod assumptions;
mod cautions;
mod checks;
mod distribution;
mod findings;
mod grade;
mod grading;
mod picture;
mod question;
mod separated;
mod stage;
mod statement;
mod streams;
mod treated;
mod turbulence;

pub use answer::{
    CarrierProperties, InflowSettling, RemovedShares, SeparatedProperty, SeparationAnswer,
    SinksOrRises, SizeQuantiles, TreatedFluid,
};
pub use question::{
    CarrierFluid, CoalescerStage, DiscCentrifuge, FilterStage, ListedSizes, LogNormalSizes,
    MembraneRejection, ParticleSizes, Particles, Recirculation, SeparatingStage, Separation,
    SeparationFeed, Separator, SettlingTank, SizeClass, SizeGrade, TankInflow, TankTurbulence,
    TubularCentrifuge, Ultrafiltration,
};

/// What the concentrate is called among what a membrane holds back.
const CONCENTRATE: &str = "concentrate";

impl Calculation for Separation {
    const NAME: &'static str = "separation";
    const SUMMARY: &'static str = "What a settling tank, centrifuge, filter, coalescer or membrane \
                                   takes out of the fluid, and how small what is left is";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/separation.json");
    type Answer = SeparationAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<SeparationAnswer>, Refusal> {
        self.check()?;
        let treated = self.treated()?;
        let streams = self.streams(&treated)?;
        let answer = self.answer(&treated, streams.as_ref())?;
        Ok(Outcome {
            findings: said(|| self.findings(&treated)),
            answer,
            balance: streams.map(|streams| streams.balance()).transpose()?,
            assumptions: filed(|| self.assumptions(&treated)),
            cautions: said(|| self.cautions()),
        })
    }

    fn statement(&self, answer: &SeparationAnswer) -> Sentence {
        self.in_short(answer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Quantity;
    use statrs::distribution::{ContinuousCDF, Normal};

    fn question(stage: &str, sizes: &str) -> Separation {
        let text = format!(
            r#"{{ "throughput": 600, "separator": {{ "stage": {stage},
                "particles": [{{ "property": "solids", "density": 2.7, "sizes": {sizes} }}] }} }}"#
        );
        serde_json::from_str(&text).expect("a question")
    }

    const DISCS: &str = r#"{ "kind": "disc_centrifuge", "speed": 6000, "gaps": 40,
        "outer_radius": 80, "inner_radius": 40, "half_angle": 40 }"#;

    /// With G = min(1, (d/D)²) and ln d normal with mean m and deviation s, the
    /// moments of a log-normal distribution give exp(2m + 2s²)/D²·Φ(z − 2s) + 1 −
    /// Φ(z), z = (ln D − m)/s.
    #[test]
    fn what_discs_take_out_is_what_the_moments_say() {
        let normal = Normal::standard();
        for (median, deviation) in [(0.5_f64, 1.2_f64), (1.5, 2.0), (3.0, 6.0), (0.2, 40.0)] {
            let sizes = format!(
                r#"{{ "by": "log_normal", "median": {median},
                    "geometric_standard_deviation": {deviation} }}"#
            );
            let answer = question(DISCS, &sizes).calculate().expect("it is answered").answer;
            let cut = answer.separated[0].all_from.expect("a cut").get();
            let (ratio, s) = (cut / median, deviation.ln());
            let z = ratio.ln() / s;
            let expected =
                (2.0 * s * s).exp() / (ratio * ratio) * normal.cdf(z - 2.0 * s) + normal.sf(z);
            let found = answer.separated[0].removed.fraction();
            assert!((found - expected).abs() < 1e-11, "{median}, {deviation}: {found}, {expected}");
        }
    }

    #[test]
    fn another_calculation_gets_the_same_shares() {
        let sizes = r#"{ "by": "log_normal", "median": 2, "span": 3 }"#;
        let question = question(DISCS, sizes);
        let shares = question.separator.removed(question.throughput, "/throughput", "/separator");
        let answer = question.calculate().expect("it is answered").answer;
        assert_eq!(shares.expect("shares"), answer.removed);
    }

    /// A membrane that rejects half: c_r = c_f·VCF^R, so that of a factor of 16
    /// the retentate carries 4 times the content, a quarter of what there was.
    #[test]
    fn a_membrane_keeps_what_its_rejection_says() {
        let membrane = r#"{ "kind": "ultrafiltration", "volume_concentration_factor": 16,
            "rejections": [{ "property": "solids", "share": 50 }] }"#;
        let sizes = r#"{ "by": "log_normal", "median": 2, "span": 3 }"#;
        let answer = question(membrane, sizes).calculate().expect("it is answered").answer;
        assert!((answer.separated[0].removed.get() - 25.0).abs() < 1e-12);
    }
}
