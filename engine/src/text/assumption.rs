//! What was taken for granted because a request did not say.

use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Concentration, Density, Quantity, Temperature};
use crate::sentence;
use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// Something assumed because the request did not say.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = RecordAssumption)]
pub struct Assumption {
    /// # About
    ///
    /// JSON pointer to the member that would have said it; empty for the
    /// request as a whole.
    #[schema(example = "/stocks/0/density")]
    pub pointer: Cow<'static, str>,
    /// # Assumption
    ///
    /// What was assumed, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

impl Assumption {
    /// An assumption about the member at `pointer`.
    pub fn new(pointer: impl Into<Cow<'static, str>>, text: impl Into<Sentence>) -> Self {
        Self { pointer: pointer.into(), text: text.into() }
    }

    /// Volumes were assumed to add.
    #[must_use]
    pub fn volumes_add() -> Self {
        Self::new("", sentence!("Volumes were assumed to add when fluids are mixed."))
    }

    /// What is called `name` was assumed to weigh what water weighs at 20 °C.
    pub fn weighs_like_water(pointer: impl Into<Cow<'static, str>>, name: &str) -> Self {
        Self::new(pointer, sentence!("{}: {}.", name, density_of_water()))
    }

    /// What is called `name` was assumed to carry nothing of `property`.
    pub fn carries_none(pointer: impl Into<Cow<'static, str>>, name: &str, property: &str) -> Self {
        Self::new(pointer, sentence!("{}: carries no {}.", name, property))
    }

    /// Neat concentrate and water were assumed to be the stocks, because none were given.
    #[must_use]
    pub fn neat_and_water() -> Self {
        let text = sentence!(
            "Neat concentrate at {} and pure water were assumed to be on hand, both with the {}.",
            Concentration::measure_of(100.0),
            density_of_water()
        );
        Self::new("/stocks", text)
    }

    /// What is carried off was assumed to be fluid as it is.
    #[must_use]
    pub fn carried_off_as_it_is() -> Self {
        let text = "What is carried off was assumed to be as strong as the fluid in the sump.";
        Self::new("/losses/depletion_ratio", text)
    }

    /// Concentrate was assumed to bring as much of `property` as the water it replaces.
    pub fn brings_what_water_does(pointer: impl Into<Cow<'static, str>>, property: &str) -> Self {
        let text = sentence!(
            "The concentrate was assumed to bring as much {} as the water it replaces.",
            property
        );
        Self::new(pointer, text)
    }
}

/// "density of water at 20 °C, 0.9982072 kg/L", to be said within a sentence.
#[must_use]
pub fn density_of_water() -> Sentence {
    let density = Density::measure_of(DENSITY_AT_20_CELSIUS).rounded(7);
    sentence!("density of water at {}, {}", Temperature::measure_of(20.0), density)
}
