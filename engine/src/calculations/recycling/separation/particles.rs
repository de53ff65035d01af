//! What is to be taken out: its material and its sizes.

use crate::quantity::{Density, Multiple, ParticleSize, Quantity, Ratio, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Particles or drops of one property.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Particles {
    /// The property that they are: `tramp_oil`, `solids`, or what the shop calls
    /// them.
    #[serde(deserialize_with = "crate::fluid::properties::name")]
    #[schema(example = "tramp_oil", pattern = "^[A-Za-z][A-Za-z0-9_]{0,63}$")]
    pub property: String,
    /// Density of their material. Needed where they sink or rise: about 0.87 for
    /// oil, 2.7 for aluminium, 7.85 for steel (in kg/L).
    #[schema(example = 0.87)]
    pub density: Option<Density>,
    /// Their sizes, by mass. Needed wherever the share removed goes by size.
    pub sizes: Option<Sizes>,
}

/// The sizes of particles or drops, by mass.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "by", rename_all = "snake_case")]
pub enum Sizes {
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
    /// The median: half of the mass is smaller.
    #[schema(example = 60.0)]
    pub median: ParticleSize,
    /// How wide it is, as the geometric standard deviation: 84 % of the mass is
    /// smaller than so many times the median. 1 is all of one size. Give this or
    /// the span.
    #[schema(example = 2.0)]
    pub geometric_standard_deviation: Option<Multiple>,
    /// How wide it is, as the span: the sizes below which 90 and 10 % of the
    /// mass lie, their difference over the median.
    pub span: Option<Ratio>,
}

/// A list of sizes and their shares.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ListedSizes {
    /// The sizes, each with its share of the mass; the shares come to 100 %.
    #[schema(min_items = 1, max_items = 20000)]
    pub classes: Vec<SizeClass>,
}

/// One size and its share of the mass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SizeClass {
    /// The size.
    #[schema(example = 10.0)]
    pub size: ParticleSize,
    /// Its share of the mass.
    #[schema(example = 25.0)]
    pub share: Share,
}

impl LogNormalSizes {
    /// The standard deviation of the logarithm of size, from the geometric
    /// standard deviation or from the span: span = 2·sinh(z₉₀·s), z₉₀ the
    /// 90 % quantile of the normal distribution.
    pub(super) fn s(&self) -> Option<f64> {
        /// 90 % quantile of the standard normal distribution (NIST Handbook 148, 1.3.6.7.1).
        const Z_90: f64 = 1.281_551_565_544_600_4;
        match (self.geometric_standard_deviation, self.span) {
            (Some(deviation), None) => Some(deviation.get().ln()),
            (None, Some(span)) => Some((span.get() / 2.0).asinh() / Z_90),
            _ => None,
        }
    }
}
