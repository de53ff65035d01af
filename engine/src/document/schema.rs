//! Shapes read off schemas: those that the derives give and those that are published.

use super::shape::{Lengths, NamedMember, Others, Shape};
use crate::quantity::{Row, TABLE};
use serde_json::{Map, Value};
use utoipa::ToSchema;

/// The most entries that a list, or members that an object, may have which names no
/// limit of its own.
pub const ENTRIES_MOST: usize = 20_000;

impl Shape {
    /// Makes the shape of `schema`, whose references lie among `components`.
    #[must_use]
    pub fn of(schema: &Value, components: &Map<String, Value>) -> Self {
        if let Some(name) = reference(schema) {
            let found = components.get(name);
            return found.map_or(Self::Text(Lengths::of(schema, "Length")), |found| {
                Self::of(found, components)
            });
        }
        if let Some(branches) = several(schema) {
            return Self::one_of(schema, branches, components);
        }
        match type_of(schema) {
            "number" | "integer" => Self::Number(quantity(schema)),
            "boolean" => Self::Truth,
            "array" => {
                let entry = Self::of(&schema["items"], components);
                Self::List(Box::new(entry), Lengths::of(schema, "Items"))
            }
            "object" => {
                let members = schema.get("properties").and_then(Value::as_object);
                let members = members.into_iter().flatten();
                let required = schema["required"].as_array().map(Vec::as_slice).unwrap_or_default();
                let members = members.map(|(name, schema)| {
                    let member = NamedMember {
                        is_required: required.iter().any(|own| own == name),
                        may_be_null: may_be_null(schema),
                        ..NamedMember::new(name, Self::of(schema, components))
                    };
                    match title(schema) {
                        Some(title) => NamedMember { title: title.to_owned(), ..member },
                        None => member,
                    }
                });
                let others = schema.get("additionalProperties").filter(|others| others.is_object());
                let others = others.map(|others| Others {
                    shape: Box::new(Self::of(others, components)),
                    most: Lengths::of(schema, "Properties").most,
                    are_properties: schema["propertyNames"].get("pattern").is_some(),
                });
                Self::Record(members.collect(), others)
            }
            _ => match words(schema) {
                Some(words) => Self::Word(words),
                // The names of properties are the only texts that have a pattern.
                None if schema.get("pattern").is_some() => Self::PropertyName,
                None if schema["format"] == "moment" => Self::Moment,
                None if schema["format"] == "date" => Self::Day,
                None => Self::Text(Lengths::of(schema, "Length")),
            },
        }
    }

    /// The shape of the documents that are read into a `Question`.
    #[must_use]
    pub fn of_type<Question: ToSchema>() -> Self {
        let mut named = Vec::new();
        Question::schemas(&mut named);
        let schema = |schema| serde_json::to_value(schema).unwrap_or_default();
        let components = named.into_iter().map(|(name, named)| (name, schema(named))).collect();
        Self::of(&schema(Question::schema()), &components)
    }

    fn one_of(schema: &Value, branches: &[Value], components: &Map<String, Value>) -> Self {
        let tagged: Option<Vec<_>> = branches.iter().map(tagged).collect();
        if let Some(branches) = tagged
            && let Some((_, tag, _)) = branches.first()
        {
            let tag = (*tag).to_owned();
            let shaped = branches
                .iter()
                .map(|(referred, _, word)| ((*word).to_owned(), Self::of(referred, components)));
            return Self::Choice { tag, branches: shaped.collect() };
        }
        let present = branches.iter().filter(|branch| type_of(branch) != "null");
        let mut shapes: Vec<Self> = present.map(|branch| Self::of(branch, components)).collect();
        if let Some(tag) = schema["discriminator"]["propertyName"].as_str() {
            let branches = shapes.into_iter().filter_map(|shape| {
                let word = match shape.member(tag)? {
                    Self::Word(words) => words.first()?.clone(),
                    _ => return None,
                };
                Some((word, shape))
            });
            return Self::Choice { tag: tag.to_owned(), branches: branches.collect() };
        }
        if shapes.len() == 1 { shapes.remove(0) } else { Self::Either(shapes) }
    }
}

/// The title of a member: its own, or the heading of its description, as the doc comments of a type have it. Of a member
/// that may be null it stands in the branch that is not.
fn title(schema: &Value) -> Option<&str> {
    let branches = schema["oneOf"].as_array().into_iter().flatten();
    let mut places = std::iter::once(schema).chain(branches);
    schema["title"].as_str().or_else(|| places.find_map(heading)).map(str::trim)
}

fn heading(schema: &Value) -> Option<&str> {
    schema["description"].as_str()?.strip_prefix("# ")?.lines().next()
}

/// What a branch of a choice refers to, as the derives write it: all of a reference and
/// of a member that tells the branches apart, with that member's name and word.
#[must_use]
pub fn tagged(branch: &Value) -> Option<(&Value, &str, &str)> {
    let [referred, tag] = branch.get("allOf")?.as_array()?.as_slice() else { return None };
    let (tag, word) = tag.get("properties")?.as_object()?.iter().next()?;
    Some((referred, tag, word.get("enum")?.get(0)?.as_str()?))
}

/// The name of the component that a schema refers to.
#[must_use]
pub fn reference(schema: &Value) -> Option<&str> {
    schema.get("$ref")?.as_str()?.rsplit('/').next()
}

/// The type a schema names, leaving out null.
#[must_use]
pub fn type_of(schema: &Value) -> &str {
    match &schema["type"] {
        Value::String(name) => name,
        Value::Array(names) => {
            names.iter().filter_map(Value::as_str).find(|name| *name != "null").unwrap_or_default()
        }
        _ => "",
    }
}

/// Whether a schema lets null stand for what it describes.
fn may_be_null(schema: &Value) -> bool {
    let is_null = |schema: &Value| schema == "null" || schema["type"] == "null";
    let any = |several: &Value| several.as_array().is_some_and(|all| all.iter().any(is_null));
    any(&schema["type"]) || several(schema).is_some_and(|all| all.iter().any(is_null))
}

/// What a value can be one of.
fn several(schema: &Value) -> Option<&Vec<Value>> {
    schema.get("oneOf").or_else(|| schema.get("anyOf"))?.as_array()
}

impl Lengths {
    /// The lengths that a schema allows by its keywords for `what` it counts.
    fn of(schema: &Value, what: &str) -> Self {
        let bound = |which: &str| schema[format!("{which}{what}")].as_u64()?.try_into().ok();
        Self { least: bound("min").unwrap_or(0), most: bound("max").unwrap_or(ENTRIES_MOST) }
    }
}

fn words(schema: &Value) -> Option<Vec<String>> {
    let words = schema.get("enum")?.as_array()?;
    Some(words.iter().filter_map(Value::as_str).map(str::to_owned).collect())
}

/// The kind of quantity that a schema names.
fn quantity(schema: &Value) -> Option<&'static Row> {
    let name = schema.get("x-quantity")?.as_str()?;
    TABLE.iter().copied().find(|row| row.name == name)
}
