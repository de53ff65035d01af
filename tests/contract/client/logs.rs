//! A log in a sheet, which is one question: dates as people write them, and faults by rows.

use super::Shown;
use super::messages::run;
use sumpwright_client::sheet::Cell;

const LOG: &str = "at;volume;concentration;remark\n\
                   2026-03-02;200;7;filled\n\
                   2026-03-04 18:00;176;7,3;\n\
                   \n\
                   07.03.2026;152;7,7;\n\
                   2026-03-10 06:00;128;8,1;\n";

fn answered(log: &str, more: &str) -> Result<Shown, String> {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("log.csv"), log).expect("a file");
    let words = format!("rows losses @log.csv -o @o.csv --units metric{more}");
    run(folder.path(), &words).map(|failed| {
        assert_eq!(failed, 0);
        Shown::read(&folder.path().join("o.csv"))
    })
}

/// Dates by year, month and day or, with points, by day, month and year are the same days.
#[test]
fn dates_of_a_log_are_written_as_people_write_them() {
    let here = answered(LOG, " --set sump.capacity=200").expect("an answer");
    let days = LOG
        .replace("at;", "day;")
        .replace("2026-03-02;", "0;")
        .replace("2026-03-04 18:00", "2,5")
        .replace("07.03.2026", "5")
        .replace("2026-03-10 06:00", "8");
    let by_days = answered(&days, " --set sump.capacity=200").expect("an answer");
    assert!(here.rows.len() > 20, "{here:?}");
    let losses = |shown: &Shown| {
        let named = |row: &&Vec<Cell>| row[0].text().starts_with("answer.evaporation");
        shown.rows.iter().filter(named).cloned().collect::<Vec<_>>()
    };
    assert_eq!(losses(&here), losses(&by_days));
    assert!(!losses(&here).is_empty());
}

#[test]
fn some_values_of_the_answer_can_be_had_and_rounded() {
    let more = " --set sump.capacity=200 --columns answer.evaporation.value --digits 2";
    let shown = answered(LOG, more).expect("an answer");
    let [row] = &shown.rows[..] else { panic!("{shown:?}") };
    let Cell::Number(value) = row[1] else { panic!("{row:?}") };
    assert!(value > 0.0 && format!("{value}").len() <= 4, "{value}");
    let none = answered(LOG, " --set sump.capacity=200 --columns answer.evap");
    assert_eq!(none.expect_err("there is none"), "The answer has no member answer.evap.");
}

#[test]
fn every_fault_of_a_log_has_its_row_and_its_column() {
    let log = LOG.replace("176", "-5").replace("152", "much");
    let said = answered(&log, " --set sump.capacity=200").expect_err("much is wrong");
    let lines: Vec<&str> = said.lines().collect();
    assert!(lines[0].starts_with("Row 3, volume: -5 is out of range"), "{said}");
    assert!(lines[1].starts_with("Row 5, volume: This is the text \"much\""), "{said}");
    let log = LOG.replace("07.03.2026", "3/7/2026");
    let said = answered(&log, " --set sump.capacity=200").expect_err("it is ambiguous");
    assert!(said.starts_with("Row 5, at: "), "{said}");
    let said = answered(LOG, "").expect_err("the sump is missing");
    assert!(said.contains("sump: \"sump\" is missing."), "{said}");
    assert!(said.contains("is said by --set, as in --set sump.capacity=200"), "{said}");
}
