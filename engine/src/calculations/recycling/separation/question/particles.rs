//! What is to be taken out: its material and its sizes.

use crate::quantity::{Density, Multiple, ParticleSize, Quantity, Ratio, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Particles or drops of one property.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = ParticlesByProperty)]
pub struct Particles {
    /// # Property
    ///
    /// Name of the property: `tramp_oil`, `solids`, or what the shop calls it.
    #[serde(deserialize_with = "crate::fluid::properties::name")]
    #[schema(example = "tramp_oil", pattern = "^[A-Za-z][A-Za-z0-9_]{0,63}$")]
    pub property: String,
    /// # Density
    ///
    /// Density of the material. Needed where particles sink or rise: about 0.87 times that of
    /// water for oil, 2.7 times for aluminium, 7.85 times for steel.
    #[schema(example = 0.87)]
    pub density: Option<Density>,
    /// # Sizes
    ///
    /// Sizes of the particles, by mass. Needed wherever the share taken out depends on size.
    pub sizes: Option<ParticleSizes>,
}

/// The sizes of particles or drops, by mass.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "by", rename_all = "snake_case")]
pub enum ParticleSizes {
    /// A log-normal distribution.
    LogNormal(LogNormalSizes),
    /// A list of sizes and their shares.
    List(ListedSizes),
}

/// A log-normal distribution of sizes by mass.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogNormalSizes {
    /// # Median
    ///
    /// Median size: half of the mass is smaller.
    #[schema(example = 60.0)]
    pub median: ParticleSize,
    /// # Geometric standard deviation
    ///
    /// Spread of the sizes: 84 % of the mass is smaller than this many times the median. 1
    /// means that all have one size. Give this or the span.
    #[schema(example = 2.0)]
    pub geometric_standard_deviation: Option<Multiple>,
    /// # Span
    ///
    /// Spread of the sizes: the size below which 90 % of the mass lies less that for 10 %,
    /// divided by the median.
    pub span: Option<Ratio>,
}

/// A list of sizes and their shares.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ListedSizes {
    /// # Sizes and shares
    ///
    /// The sizes, each with its share of the mass; the shares must come to 100 %.
    pub classes: Vec<SizeClass>,
}

/// One size and its share of the mass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SizeClass {
    /// # Size
    ///
    /// The size.
    #[schema(example = 10.0)]
    pub size: ParticleSize,
    /// # Share
    ///
    /// Share of the mass that has this size.
    #[schema(example = 25.0)]
    pub share: Share,
}

impl LogNormalSizes {
    /// The standard deviation of the logarithm of size, from the geometric
    /// standard deviation or from the span: span = 2·sinh(z₉₀·s), z₉₀ the
    /// 90 % quantile of the normal distribution.
    pub(in super::super) fn s(&self) -> Option<f64> {
        /// 90 % quantile of the standard normal distribution (NIST Handbook 148, 1.3.6.7.1).
        const Z_90: f64 = 1.281_551_565_544_600_4;
        match (self.geometric_standard_deviation, self.span) {
            (Some(deviation), None) => Some(deviation.get().ln()),
            (None, Some(span)) => Some((span.get() / 2.0).asinh() / Z_90),
            _ => None,
        }
    }
}
