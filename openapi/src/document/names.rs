//! Names of the document: of its components and of its parameters.

/// The component that describes a problem.
pub const PROBLEM: &str = "Problem";

/// The parameter of a query that has a key where no header can be sent.
pub const ADDRESS_KEY: &str = "key";

/// Parameters of a query that are not part of the question.
pub const QUERY_OPTIONS: [&str; 7] =
    ["pick", "format", "digits", "problems", "decimal", "width", "include"];

/// The name of the component that describes requests for a calculation.
#[must_use]
pub fn question_name(calculation: &str) -> String {
    format!("{}Question", pascal_case(calculation))
}

/// The name of the component that describes answers of a calculation.
#[must_use]
pub fn record_name(calculation: &str) -> String {
    format!("{}Record", pascal_case(calculation))
}

pub(crate) fn pascal_case(kebab: &str) -> String {
    kebab
        .split('-')
        .flat_map(|word| {
            let (first, rest) = word.split_at(1);
            [first.to_uppercase(), rest.to_owned()]
        })
        .collect()
}
