//! A calculation that is cut off frees its slot, and a table of slow rows is answered
//! completely.

use super::longest::longest;
use crate::SERVICES;
use crate::server::{client, start};
use std::num::{NonZeroU32, NonZeroUsize};
use std::time::{Duration, Instant};
use sumpwright_engine::numerics::cut_off::{Flag, unless};
use sumpwright_openapi::service::Services;
use sumpwright_server::configuration::Configuration;

/// Each is told to stop after half a second and must have stopped a second and a half later. A build
/// without optimisation needs far longer to read documents, whose size is limited anyway,
/// and has more time for that.
#[test]
fn the_longest_list_and_map_of_every_calculation_can_be_cut_off() {
    let mut went_on = Vec::new();
    for service in SERVICES.iter() {
        for (word, document) in longest(service) {
            let flag = Flag::default();
            let raise = flag.clone();
            let watch = std::thread::spawn(move || {
                std::thread::sleep(Duration::from_millis(500));
                raise.raise();
            });
            let began = Instant::now();
            let answered = unless(&flag, || service.answer_tree(document));
            let took = began.elapsed();
            println!("{word}: {took:?} {}", answered.is_ok());
            if took > Duration::from_secs(if cfg!(debug_assertions) { 20 } else { 2 }) {
                went_on.push((word, took));
            }
            watch.join().expect("it only waits");
        }
    }
    assert!(went_on.is_empty(), "{went_on:?}");
}

/// Each row has as much time as a single document, however many rows there are.
#[test]
fn a_table_of_uncertain_rows_ends_whole() {
    let configuration = Configuration {
        answer_seconds: const { NonZeroU32::new(4).unwrap() },
        at_once: NonZeroUsize::new(1),
        ..Configuration::default()
    };
    let address = start(Services::new(), configuration);
    let ask = |draws: u32, rows: usize| {
        let query = format!(
            "units=metric&target.concentration=8&uncertainty.inputs./sump/volume.u=4\
             &uncertainty.draws={draws}&columns=answer.add.0.volume"
        );
        let mut table = "sump.capacity,sump.volume,sump.concentration\n".to_owned();
        table.push_str(&"200,140,7\n".repeat(rows));
        let request = client().post(format!("{address}/v1/top-up?{query}")).body(table);
        let answer = request.header("content-type", "text/csv").send().expect("an answer");
        assert_eq!(answer.status(), 200);
        answer.text().expect("it does not break off")
    };
    let began = Instant::now();
    let one = ask(2_000, 1);
    let each = began.elapsed();
    assert_eq!(one.lines().count(), 2, "{one}");
    // Enough rows to take twice the time that one document may take.
    let rows = (8_000 / each.as_millis().max(1)).clamp(2, 2_000) as usize;
    let all = ask(2_000, rows);
    assert_eq!(all.lines().count(), rows + 1);
    assert!(all.lines().skip(1).all(|row| row.ends_with(',')), "none has a problem");
}
