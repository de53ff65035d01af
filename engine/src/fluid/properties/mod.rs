//! What else a fluid carries: tramp oil by volume, everything else by mg/L.
//!
//! Tramp oil takes up room, so it is a share of the volume. Hardness, chloride,
//! nitrite, fines and whatever else a shop follows are dissolved or suspended
//! in the fluid and take no room of their own.
//!
//! **A tramp-oil share takes up volume; everything else is mg/L.** Any name is allowed for the latter.

mod mixing;

pub use mixing::why_it_does_not_mix;

use crate::quantity::{
    Concentration, Content, Days, Mass, MassDifference, Measure, Quantity, UnitSystem, Volume,
    VolumeDifference,
};
use crate::sentence;
use crate::text::Faults;
use serde::de::{Error as _, MapAccess, Visitor};
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_with::skip_serializing_none;
use smol_str::SmolStr;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;
use std::marker::PhantomData;
use utoipa::openapi::schema::{AdditionalProperties, Object, ObjectBuilder, Type};
use utoipa::openapi::{Ref, RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// The one property that takes up volume.
pub const TRAMP_OIL: &str = "tramp_oil";

/// The name of a property, or of whatever else a member is called, as a person says it.
#[must_use]
pub fn spoken(name: &str) -> String {
    name.replace('_', " ")
}

/// The longest name of a property.
pub const NAME_MOST: usize = 64;

/// What a property's name may look like: free of the dots and bare numbers
/// that the flat form uses for paths. Names of what does not mix in a straight line
/// are refused beyond that, see [`why_it_does_not_mix`].
pub const NAME_PATTERN: &str = "^[A-Za-z][A-Za-z0-9_]{0,63}$";

/// So many properties are followed at most, and so many members has an object of them.
pub const PROPERTIES_MOST: usize = 100;

/// So many fluids, or one fluid on so many days, in so many properties at most, one
/// number times the other: what is said of each has to find room in an answer.
pub const FOLLOWED_MOST: usize = 200_000;

/// A property's name; short ones, which are most, lie where the name itself does.
pub type PropertyName = SmolStr;

/// A value for each property a fluid carries: `tramp_oil` in % by volume, any
/// other name in mg/L.
#[derive(Debug, Clone, PartialEq)]
pub struct ByProperty<Oil, Matter> {
    /// The value for tramp oil.
    pub tramp_oil: Option<Oil>,
    /// The values for what is dissolved or suspended, by name.
    pub matter: BTreeMap<PropertyName, Matter>,
}

/// The amount of each property that a fluid carries.
pub type Properties = ByProperty<Concentration, Content>;

/// What a fluid's properties may come to.
pub type Limits = ByProperty<OilLimit, ContentLimit>;

/// Properties as the materials of a stream: oil by volume, matter by mass.
pub type Carried = ByProperty<Volume, Mass>;

/// What is left over of the properties of streams.
pub type CarriedDifference = ByProperty<VolumeDifference, MassDifference>;

/// The least and the most tramp oil, or one of them.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OilLimit {
    /// # At least
    ///
    /// The least that is wanted.
    pub min: Option<Concentration>,
    /// # At most
    ///
    /// The most that is allowed.
    pub max: Option<Concentration>,
}

/// The least and the most of something dissolved or suspended, or one of them.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ContentLimit {
    /// # At least
    ///
    /// The least that is wanted.
    pub min: Option<Content>,
    /// # At most
    ///
    /// The most that is allowed.
    pub max: Option<Content>,
}

impl<Oil, Matter> ByProperty<Oil, Matter> {
    /// Whether nothing is followed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.tramp_oil.is_none() && self.matter.is_empty()
    }

    /// Whether a property has a value.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        if name == TRAMP_OIL { self.tramp_oil.is_some() } else { self.matter.contains_key(name) }
    }

    /// The names of what has a value.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        let oil = self.tramp_oil.as_ref().map(|_| TRAMP_OIL);
        oil.into_iter().chain(self.matter.keys().map(PropertyName::as_str))
    }
}

impl<Oil, Matter> Default for ByProperty<Oil, Matter> {
    fn default() -> Self {
        Self { tramp_oil: None, matter: BTreeMap::new() }
    }
}

impl<Oil: Serialize, Matter: Serialize> Serialize for ByProperty<Oil, Matter> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let length = self.matter.len() + usize::from(self.tramp_oil.is_some());
        let mut map = serializer.serialize_map(Some(length))?;
        if let Some(oil) = &self.tramp_oil {
            map.serialize_entry(TRAMP_OIL, oil)?;
        }
        for (name, value) in &self.matter {
            map.serialize_entry(name, value)?;
        }
        map.end()
    }
}

impl<'de, Oil, Matter> Deserialize<'de> for ByProperty<Oil, Matter>
where
    Oil: Deserialize<'de>,
    Matter: Deserialize<'de>,
{
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(ByPropertyVisitor(PhantomData))
    }
}

struct ByPropertyVisitor<Oil, Matter>(PhantomData<(Oil, Matter)>);

impl<'de, Oil, Matter> Visitor<'de> for ByPropertyVisitor<Oil, Matter>
where
    Oil: Deserialize<'de>,
    Matter: Deserialize<'de>,
{
    type Value = ByProperty<Oil, Matter>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object with a member for each property")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut values = ByProperty::default();
        while let Some(name) = map.next_key::<PropertyName>()? {
            let twice = if name == TRAMP_OIL {
                values.tramp_oil.replace(map.next_value()?).is_some()
            } else {
                check_name(&name)?;
                values.matter.insert(name.clone(), map.next_value()?).is_some()
            };
            if twice {
                return Err(A::Error::custom(format_args!("{name:?} is given twice")));
            }
            if values.matter.len() + usize::from(values.tramp_oil.is_some()) > PROPERTIES_MOST {
                return Err(A::Error::custom("there are too many properties"));
            }
        }
        Ok(values)
    }
}

/// Notes days, looked ahead by at `pointer`, that leave no room in an answer for a line
/// of so many properties a day.
pub(crate) fn check_room(pointer: &str, days: Days, properties: usize, faults: &mut Faults) {
    #[expect(clippy::cast_precision_loss, reason = "far below 2^52")]
    let (most, columns) = (FOLLOWED_MOST as f64, properties.max(1) as f64);
    if days.get() * columns > most {
        let detail = sentence!(
            "A line for each of {} in {} properties is more than an answer has room for. Ask for \
             fewer days, up to {}, or follow fewer properties.",
            days,
            Measure::bare(columns),
            Days::measure_of((most / columns).floor())
        );
        faults.add(pointer, detail);
    }
}

/// Reads the name of a property.
pub fn name<'de, D: Deserializer<'de>>(deserializer: D) -> Result<String, D::Error> {
    let name = String::deserialize(deserializer)?;
    check_name(&name)?;
    Ok(name)
}

/// Refuses what is no name for a property, and what does not mix.
fn check_name<E: serde::de::Error>(name: &str) -> Result<(), E> {
    if !is_property_name(name) {
        return Err(E::custom(format_args!("{name:?} is no name for a property")));
    }
    match why_it_does_not_mix(name) {
        Some(why) => Err(E::custom(why.show(UnitSystem::Metric))),
        None => Ok(()),
    }
}

/// The same rule as [`NAME_PATTERN`].
#[must_use]
pub fn is_property_name(name: &str) -> bool {
    name.len() <= NAME_MOST
        && name.starts_with(|first: char| first.is_ascii_alphabetic())
        && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_')
}

impl<Oil: ToSchema, Matter: ToSchema> PartialSchema for ByProperty<Oil, Matter> {
    fn schema() -> RefOr<Schema> {
        let mut oil = Ref::from_schema_name(Oil::name());
        oil.description.push_str("Oil from the machine, floating or emulsified.");
        let matter = Ref::from_schema_name(Matter::name());
        let mut names = Object::with_type(Type::String);
        names.pattern = Some(NAME_PATTERN.to_owned());
        ObjectBuilder::new()
            .description(Some(
                "A value for each property by its name. Hardness is counted as calcium carbonate \
                 (CaCO3). What does not mix in a straight line is refused by name: pH, \
                 conductivity, temperature, counts of microbes, readings, smell, turbidity.",
            ))
            .property(TRAMP_OIL, oil)
            .property_names(Some(Schema::Object(names)))
            .max_properties(Some(PROPERTIES_MOST))
            .additional_properties(Some(AdditionalProperties::RefOr(RefOr::Ref(matter))))
            .into()
    }
}

impl<Oil: ToSchema, Matter: ToSchema> ToSchema for ByProperty<Oil, Matter> {
    fn name() -> Cow<'static, str> {
        format!("{}ByProperty", Matter::name()).into()
    }

    fn schemas(schemas: &mut Vec<(String, RefOr<Schema>)>) {
        schemas.push((Oil::name().into_owned(), Oil::schema()));
        schemas.push((Matter::name().into_owned(), Matter::schema()));
        Oil::schemas(schemas);
        Matter::schemas(schemas);
    }
}
