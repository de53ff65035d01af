//! Headings that name a member in another way than by its path, or none at all; and rows with
//! words and dates as people type them.

use super::{cell, everywhere, rows, tabulate};
use crate::server::{header, request};
use sumpwright_openapi::problem::Problem;

const HEAD: &str = "machine,sump.capacity,sump.volume,sump.concentration,target.concentration\n";

fn metric(table: &str) -> Result<Vec<csv::ByteRecord>, Problem> {
    let told = tabulate("top-up", table.as_bytes(), &everywhere(&[("units", "metric")]))?;
    Ok(rows(&told, b','))
}

fn refused(table: &str) -> Vec<String> {
    let problem = metric(table).expect_err("it is refused");
    problem.errors.into_iter().map(|fault| fault.detail).collect()
}

#[test]
fn a_heading_beyond_the_end_of_a_list_says_where_that_is() {
    let table = "units,stocks.20000.concentration\nmetric,5\n";
    let problem = tabulate("blend", table.as_bytes(), &everywhere(&[])).expect_err("it is refused");
    assert_eq!(problem.status, 422);
    assert!(problem.detail.contains("the maximum is 20000 entries"), "{}", problem.detail);
}

/// A title that several members have is told apart by those around it, and asked back without them.
#[test]
fn a_title_of_several_members_is_asked_back() {
    let table = |heading: &str| {
        format!(
            "units,Batch: Make,{heading},Stocks #1: Stock,Stocks #1: Strength,stocks.1.name,\
             Stocks #2: Strength\nmetric,100,8,x,100,water,0\n"
        )
    };
    let blend = |heading: &str| {
        tabulate("blend", table(heading).as_bytes(), &everywhere(&[])).map(|told| rows(&told, b','))
    };
    let by_title = blend("Batch: Strength").expect("a table");
    assert_eq!(cell(&by_title, 1, "problem"), "");
    assert_eq!(by_title[1], blend("target.concentration").expect("a table")[1]);
    let asked =
        tabulate("make-up", b"units,Carried by the water: Tramp oil\nmetric,1\n", &everywhere(&[]));
    let detail = asked.expect_err("it is asked back").detail;
    assert_eq!(
        detail,
        "The heading \"Carried by the water: Tramp oil\" can mean \"Deionised water: Carried by the \
         water: Tramp oil\" (deionised.properties.tramp_oil) or \"Water: Carried by the water: \
         Tramp oil\" (water.properties.tramp_oil). Write the one you mean."
    );
}

/// The heading of a member that holds others, or the end of a path, says which to write; all
/// headings are told at once.
#[test]
fn a_heading_that_names_half_a_member_says_the_whole() {
    // "method" is a title, and is taken.
    let told = refused("machine,capacity,volume,method,target\nA,50,40,refractometer,8\n");
    let expected = [
        "The heading \"capacity\" is the end of a path. Write the whole: \"Sump holds\" \
         (sump.capacity).",
        "The heading \"volume\" is the end of a path. Write the whole: \"In the sump now\" \
         (sump.volume) or \"Fill to\" (target.volume).",
        "The heading \"target\" names a member that contains other members. Head the column with \
         the one you mean: \"Strength wanted\" (target.concentration) or \"Fill to\" \
         (target.volume).",
    ];
    assert_eq!(told.len(), expected.len(), "{told:?}");
    for (told, expected) in told.iter().zip(expected) {
        assert!(told.starts_with(expected), "{told}");
    }
}

#[test]
fn units_stand_in_brackets_or_after_a_comma_in_words_that_people_write() {
    let plain = metric(&format!("{HEAD}A,200,140,5,8\n")).expect("a table");
    for (capacity, volume, target) in [
        ("\"Sump holds, L\"", "\"In the sump now, litres\"", "\"Strength wanted, %\""),
        ("Sump holds (litre)", "In the sump now [l]", "Strength wanted [% by volume]"),
    ] {
        let table = format!("machine,{capacity},{volume},Strength now,{target}\nA,200,140,5,8\n");
        let told = metric(&table).expect("a table");
        assert_eq!(told[1], plain[1], "{capacity}");
    }
    for unit in ["gal", "US gal", "[gal_us]", "US gallons", "gallon"] {
        let table = HEAD.replace("sump.volume", &format!("sump.volume [{unit}]"));
        let told = metric(&format!("{table}A,200,10,5,8\n")).expect("a table");
        let litres = metric(&format!("{HEAD}A,200,37.85411784,5,8\n")).expect("a table");
        assert_eq!(cell(&told, 1, "statement"), cell(&litres, 1, "statement"), "{unit}");
    }
    for unit in ["°F", "degF", "F", "deg F"] {
        let table = format!(
            "units,reading.method,reading.brix,reading.factor,\
                             Temperature on the prism [{unit}]\nmetric,refractometer,5,1.2,68\n"
        );
        let told = tabulate("concentration", table.as_bytes(), &everywhere(&[]));
        let told = rows(&told.expect("a table"), b',');
        assert_eq!(cell(&told, 1, "problem"), "", "{unit}");
    }
    let told = refused("sump.capacity [kg],\"Sump holds, imperial gallons\"\n1,2\n");
    assert!(told[0].ends_with("does not fit this member. Use L or US gal."), "{told:?}");
    assert!(told[1].contains("imperial gallons\" does not fit this member."), "{told:?}");
}

/// A title above the headings, blank rows among them, and headings that name nothing.
#[test]
fn a_table_without_headings_in_its_first_row_says_where_they_are() {
    let above = format!("My sumps in March,,,,\n,,,,\n{HEAD}A,50,40,5,8\n");
    let told = refused(&above);
    assert_eq!(
        told,
        [
            "No heading in row 1 names a member of the question. Row 3 has the headings: say so with \
          headings_in_row=3 in the query (--headings-in-row 3 in the client), or delete the rows \
          above it."
        ]
    );
    let told = refused("who,when\nAda,today\n");
    assert_eq!(
        told,
        ["No heading in row 1 names a member of the question. Head each column with the path or \
          the title of a member, such as \"Sump holds\" (sump.capacity) or \"In the sump now\" \
          (sump.volume)."]
    );
    let asked = |path: &str, table: &str| {
        let sent = request("POST", path).header("content-type", "text/csv");
        sent.body(table.to_owned()).send().expect("an answer")
    };
    let path = "/v1/top-up?units=metric&columns=answer.drain";
    let plain = asked(path, &format!("{HEAD}A,50,40,5,8\n")).text().expect("a table");
    let below = asked(&format!("{path}&headings_in_row=3"), &above);
    assert_eq!(header(&below, "content-type").split(';').next(), Some("text/csv"));
    assert_eq!(below.text().expect("a table"), plain);
    for wrong in ["0", "x", "101"] {
        let refused = asked(&format!("{path}&headings_in_row={wrong}"), &above);
        assert_eq!(refused.status(), 400, "{wrong}");
    }
    let log = "Log of lathe 1\nDay,In the sump\n0,100\n1,x\n";
    let log =
        |row: &str| asked(&format!("/v1/losses?units=metric{row}"), log).text().expect("text");
    assert!(log("").contains("Row 2 has the headings"), "{}", log(""));
    assert!(
        log("&headings_in_row=2").contains("Row 4, In the sump: "),
        "{}",
        log("&headings_in_row=2")
    );
}

#[test]
fn a_line_that_names_the_separator_is_understood() {
    let metric = everywhere(&[("units", "metric")]);
    let table = "sump.capacity;sump.volume;sump.concentration;target.concentration\n50;40,5;5;8\n";
    let plain = tabulate("top-up", table.as_bytes(), &metric).expect("a table");
    for line in ["sep=;\n", "\u{feff}sep=;\r\n", "\"SEP=;\"\n"] {
        let told = tabulate("top-up", format!("{line}{table}").as_bytes(), &metric);
        assert_eq!(told.expect("a table"), plain, "{line:?}");
    }
    // Commas of the titles separate nothing.
    let titles =
        "Sump holds, L;In the sump now, L;Strength now, %;Strength wanted, %\n50;40,5;5;8\n";
    let told = tabulate("top-up", titles.as_bytes(), &metric).expect("a table");
    assert_eq!(rows(&told, b';')[1], rows(&plain, b';')[1]);
}

#[test]
fn words_are_taken_in_any_case_in_cells_and_in_addresses() {
    let head = "Units,sump.capacity,sump.volume,sump.reading.method,sump.reading.brix,\
                sump.reading.factor,target.concentration,Draining\n";
    let ask = |row: &str| {
        let told = tabulate("top-up", format!("{head}{row}\n").as_bytes(), &everywhere(&[]));
        rows(&told.expect("a table"), b',')
    };
    let plain = ask("us,50,50,refractometer,3,1.25,6,not_allowed");
    let typed = ask("US,50,50, Refractometer,3,1.25,6,Not allowed");
    assert_eq!(cell(&typed, 1, "problem"), "");
    assert_eq!(cell(&typed, 1, "statement"), cell(&plain, 1, "statement"));
    let get = |units: &str, method: &str| {
        let path = format!(
            "/v1/concentration?units={units}&reading.method={method}&reading.brix=5&reading.factor=1.2"
        );
        let response = crate::server::get(&path);
        assert_eq!(response.status(), 200, "{path}");
        response.text().expect("text")
    };
    assert_eq!(get("metric", "refractometer"), get("Metric", "Refractometer"));
    let round = "units,Dirty fluids may mix\nmetric,FALSE\n";
    let told = tabulate("recharge", round.as_bytes(), &everywhere(&[])).expect("a table");
    let said = cell(&rows(&told, b','), 1, "problem").to_owned();
    assert!(!said.contains("true or false"), "{said}");
}

/// A problem is told in the units that the row is typed in, by the headings of the table, every
/// fault of the row.
#[test]
fn a_row_is_told_its_faults_by_its_own_headings_and_units() {
    let head = "Sump holds [L],In the sump now [L],Strength now,Strength wanted\n";
    let told = tabulate(
        "top-up",
        format!("{head}200,270,5,8\n").as_bytes(),
        &everywhere(&[("units", "us")]),
    );
    let told = rows(&told.expect("a table"), b',');
    assert_eq!(
        cell(&told, 1, "problem"),
        "In the sump now [L]: It is fuller than full: 270 L in a capacity of 200 L."
    );
    let told = metric(&format!("{head}200,x,125,\n")).expect("a table");
    let said = cell(&told, 1, "problem");
    assert!(said.starts_with("In the sump now [L]: This is the text \"x\""), "{said}");
    assert!(said.contains(" Strength now: 125 is out of range"), "{said}");
    assert!(said.contains(" target: \"target\" is missing."), "{said}");
    let commas = "sump.capacity;sump.volume;sump.concentration;target.concentration\n\
                  1.250;1.100;5,5;x\n";
    let told = tabulate("top-up", commas.as_bytes(), &everywhere(&[("units", "metric")]));
    let told = rows(&told.expect("a table"), b';');
    let said = cell(&told, 1, "problem");
    assert!(said.starts_with("sump.capacity: This table"), "{said}");
    assert!(said.contains(" sump.volume: This table"), "{said}");
    assert!(said.contains(" target.concentration: This is the text \"x\""), "{said}");
}

/// A log with dates as spreadsheets write them, and one whose faults are told with row and column.
#[test]
fn a_log_is_read_with_dates_as_they_are_typed() {
    let ask = |dates: [&str; 4], volumes: [&str; 4]| {
        let rows: Vec<String> = dates
            .iter()
            .zip(volumes)
            .zip([8.0, 8.2, 8.4, 8.6])
            .map(|((date, volume), strength)| format!("{date},{volume},{strength}\n\n"))
            .collect();
        let table = format!("At,In the sump,Strength\n{}", rows.concat());
        let path = "/v1/losses?units=metric&sump.capacity=200&sump.concentration=8";
        let sent = request("POST", path).header("content-type", "text/csv");
        let sent = sent.header("accept", "application/json").body(table).send();
        sent.expect("an answer").json::<serde_json::Value>().expect("JSON")
    };
    let volumes = ["190", "180", "170", "160"];
    let plain = ask(
        [
            "2026-03-02T06:00:00Z",
            "2026-03-03T06:00:00Z",
            "2026-03-04T06:30:00Z",
            "2026-03-25T06:00:00Z",
        ],
        volumes,
    );
    assert!(plain["answer"].is_object(), "{plain}");
    let typed = ask(["2026-03-02", "03.03.2026", "2026-03-04 6:30", "3/25/2026"], volumes);
    for rate in ["evaporation", "carry_off"] {
        assert_eq!(typed["answer"][rate], plain["answer"][rate]);
    }
    let problem = ask(["2026-03-02", "3/4/2026", "2026-03-04", "4.3."], volumes);
    let errors = problem["errors"].as_array().expect("errors");
    assert_eq!(errors[0]["pointer"], "/log/1/at", "{problem}");
    assert_eq!(errors[1]["pointer"], "/log/3/at", "{problem}");
    let detail = errors[0]["detail"].as_str().expect("a sentence");
    assert!(detail.starts_with("Row 4, At: \"3/4/2026\" can be day or month first."), "{detail}");
    let problem =
        ask(["2026-03-02", "yesterday", "2026-03-04", "2026-03-05"], ["190", "x", "y", "160"]);
    let details: Vec<&str> = problem["errors"]
        .as_array()
        .expect("errors")
        .iter()
        .filter_map(|e| e["detail"].as_str())
        .collect();
    assert!(details[0].starts_with("Row 4, In the sump: This is the text \"x\""), "{details:?}");
    assert!(details[1].starts_with("Row 6, In the sump: This is the text \"y\""), "{details:?}");
    assert!(problem["detail"].as_str().is_some_and(|told| told.starts_with("Row 4, In the sump")));
}
