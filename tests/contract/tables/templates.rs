//! Tables to fill in: plain headings, and the example below them.

use super::{everywhere, tabulate};
use crate::{SERVICES, service, solve};
use serde_json::Value;
use std::collections::BTreeSet;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_openapi::flat;
use sumpwright_openapi::service::Service;
use sumpwright_openapi::table::{ColumnKind, TableOptions, Template, TemplateColumn, as_list};

/// How a heading is written from its column.
type Written = fn(&TemplateColumn) -> String;

/// With and without the unit, and in capitals.
const WRITTEN: [Written; 4] = [
    |column| column.title.clone(),
    |column| column.heading(UnitSystem::Metric),
    |column| match column.units() {
        Some(units) => format!("{}, {}", column.title, units.metric.symbol),
        None => column.title.clone(),
    },
    |column| column.heading(UnitSystem::Metric).to_uppercase(),
];

fn cell(column: &TemplateColumn, row: usize) -> String {
    column.examples[row].as_ref().map(flat::leaf_text).unwrap_or_default()
}

/// The headings and the example as CSV.
fn as_csv(template: &Template, written: Written) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(template.columns.iter().map(written)).expect("headings");
    for row in 0..template.rows {
        writer
            .write_record(template.columns.iter().map(|column| cell(column, row)))
            .expect("a row");
    }
    writer.into_inner().expect("a table")
}

/// Whether the caller has named a member of the example; such a name is read as it is written.
fn has_names_of_its_own(service: &Service, template: &Template) -> bool {
    let own = |column: &TemplateColumn| {
        let (around, _) = column.path.rsplit_once('.').unwrap_or(("", ""));
        around.split('.').next_back() == Some("limits") || column.path.contains("properties.")
    };
    template.columns.iter().any(own) || service.name == "blend"
}

fn answered_by_rows(service: &Service, table: &[u8], expected: &Value) {
    let leaves = flat::flatten(expected);
    let answers = leaves.iter().filter(|(path, _)| path.starts_with("answer."));
    let paths: Vec<String> = answers.map(|(path, _)| path.clone()).take(1000).collect();
    let columns = Some(paths.clone());
    let options = TableOptions { columns, ..TableOptions::default() };
    let told = tabulate(service.name, table, &options);
    let told = told.unwrap_or_else(|problem| panic!("{}: {problem:?}", service.name));
    let rows = super::rows(&told, b',');
    assert_eq!(super::cell(&rows, 1, "problem"), "", "{}", service.name);
    for path in paths {
        let leaf = flat::leaf_text(flat::pick(expected, &path).expect("a leaf"));
        let heading = rows[0].iter().position(|heading| {
            let heading = String::from_utf8_lossy(heading);
            heading.split(' ').next() == Some(&path)
        });
        let column = heading.unwrap_or_else(|| panic!("no column {path}"));
        let found = String::from_utf8_lossy(&rows[1][column]).into_owned();
        assert_eq!(found.trim_start_matches('\''), leaf, "{path} of {}", service.name);
    }
}

fn answered_as_list(
    service: &Service,
    list: &'static str,
    template: &Template,
    table: &[u8],
    expected: &Value,
) {
    let given = template.around.iter().filter(|column| column.examples[0].is_some());
    let given: Vec<(String, String)> =
        given.map(|column| (column.title.clone(), cell(column, 0))).collect();
    let given: Vec<(&str, &str)> =
        given.iter().map(|(title, text)| (title.as_str(), text.as_str())).collect();
    let asked = as_list(service, list, table, &everywhere(&given));
    let asked = asked.unwrap_or_else(|problem| panic!("{}: {problem:?}", service.name));
    let record = service.answer_flat(asked.pairs());
    assert_eq!(record.expect("the example is answered"), *expected, "{}", service.name);
}

/// Every calculation has a table, and its template is answered as its example is.
#[test]
fn a_template_is_answered_as_the_example_is() {
    for service in SERVICES.iter() {
        let example: Value = serde_json::from_str(service.example).expect("JSON");
        let expected = solve(service.name, &example).expect("the example is answered");
        let template = Template::of(service, UnitSystem::Metric);
        for (number, written) in WRITTEN.into_iter().enumerate() {
            if number == 3 && has_names_of_its_own(service, &template) {
                continue;
            }
            let table = as_csv(&template, written);
            match service.list() {
                Some(list) => answered_as_list(service, list, &template, &table, &expected),
                None => answered_by_rows(service, &table, &expected),
            }
        }
    }
}

/// In US units, with the units in the headings, the example is answered in US units.
#[test]
fn a_template_in_us_units_is_answered_as_the_example_in_them() {
    for name in ["top-up", "concentration", "make-up"] {
        let us = crate::support::units::in_us_units(service(name), &crate::support::example(name));
        let expected = solve(name, &us).expect("it is answered");
        let template = Template::of(service(name), UnitSystem::Us);
        let table = as_csv(&template, |column| column.heading(UnitSystem::Us));
        answered_by_rows(service(name), &table, &expected);
    }
}

/// What a template says of its columns is what the schema says: no heading stands twice, each is in
/// words, and what is required is not blank in the example.
#[test]
fn a_template_says_what_belongs_in_each_column() {
    for service in SERVICES.iter() {
        let template = Template::of(service, UnitSystem::Metric);
        for columns in [&template.columns, &template.around] {
            let titles: BTreeSet<String> =
                columns.iter().map(|column| column.title.to_lowercase()).collect();
            assert_eq!(titles.len(), columns.len(), "{}", service.name);
            for column in columns {
                let plain = !column.title.contains(['.', '_', ',', '(', '[']);
                assert!(plain, "{}: {:?} of {}", service.name, column.title, column.path);
                let blank = column.examples.iter().any(Option::is_none);
                assert!(!(column.is_required && blank), "{}: {}", service.name, column.path);
                if let ColumnKind::Word(words) = &column.kind {
                    let known = |value: &Value| words.iter().any(|word| value == word);
                    assert!(column.examples.iter().flatten().all(known), "{}", column.path);
                }
            }
        }
    }
    let of = |name: &str, path: &str| {
        let template = Template::of(service(name), UnitSystem::Metric);
        let columns = template.columns.into_iter().chain(template.around);
        let column = columns.into_iter().find(|column| column.path == path);
        column.unwrap_or_else(|| panic!("{name} has no column {path}"))
    };
    let capacity = of("top-up", "sump.capacity");
    assert_eq!(capacity.title, "Sump holds");
    assert_eq!(capacity.heading(UnitSystem::Us), "Sump holds [US gal]");
    assert!(capacity.is_required);
    let ColumnKind::Number(Some(row)) = capacity.kind else { panic!("{capacity:?}") };
    assert_eq!(row.range_in_words(UnitSystem::Metric), "above 0 and up to 1000000000 L");
    let method = of("top-up", "sump.reading.method");
    let ColumnKind::Word(words) = &method.kind else { panic!("{method:?}") };
    assert!(words.len() == 4 && words.iter().any(|word| word == "titration"), "{words:?}");
    assert_eq!(of("losses", "at").kind, ColumnKind::Moment);
    assert_eq!(of("losses", "added.volume").title, "Added: Volume");
    assert_eq!(of("losses", "sump.capacity").title, "Capacity");
    assert_eq!(of("recharge", "mixing_dirty").kind, ColumnKind::Truth);
    assert_eq!(of("blend", "stocks.1.concentration").title, "Stocks #2: Strength");
    assert_eq!(of("blend", "target.concentration").title, "Batch: Strength");
}
