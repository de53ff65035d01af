//! What the system says of this process, under the names that Prometheus gives them everywhere.
//!
//! Read from `/proc` when the metrics are asked for; a system that has none says nothing of it.

use prometheus_client::collector::Collector;
use prometheus_client::encoding::{DescriptorEncoder, EncodeMetric};
use prometheus_client::metrics::MetricType;
use prometheus_client::metrics::counter::ConstCounter;
use prometheus_client::metrics::gauge::ConstGauge;
use prometheus_client::registry::Unit;
use std::fmt;
use std::fs;

/// Clock ticks in a second, of all times in `/proc` (Linux has had 100 for user space since 2.4).
const TICKS: f64 = 100.0;
/// Bytes in a page of memory. (A kernel may have larger ones; x86-64 and most of the others have these.)
const PAGE: u64 = 4096;

/// The process itself.
#[derive(Debug)]
pub(super) struct Process;

impl Collector for Process {
    fn encode(&self, mut encoder: DescriptorEncoder<'_>) -> Result<(), fmt::Error> {
        let Some(Times { processor, started }) = Times::read() else { return Ok(()) };
        let total = ConstCounter::new(processor);
        let help = "Processor time used, of all threads";
        let unit = Some(&Unit::Seconds);
        total.encode(encoder.encode_descriptor(
            "process_cpu",
            help,
            unit,
            MetricType::Counter,
        )?)?;
        let mut gauge = |name: &str, help: &str, unit: Option<&Unit>, number: Option<f64>| {
            let Some(number) = number else { return Ok(()) };
            let gauge = ConstGauge::new(number);
            gauge.encode(encoder.encode_descriptor(name, help, unit, MetricType::Gauge)?)
        };
        let bytes = Some(&Unit::Bytes);
        gauge("process_start_time", "Start, in Unix time", unit, started)?;
        gauge("process_resident_memory", "Memory in use", bytes, resident())?;
        gauge("process_open_fds", "Open files and connections", None, open_files())?;
        gauge("process_max_fds", "The most there can be of them", None, files_most())
    }
}

/// Times of the process, in seconds.
struct Times {
    processor: f64,
    /// When it began, in Unix time.
    started: Option<f64>,
}

impl Times {
    fn read() -> Option<Self> {
        let text = fs::read_to_string("/proc/self/stat").ok()?;
        // The name of the program stands in parentheses, and may hold anything.
        let (_, rest) = text.rsplit_once(')')?;
        let fields: Vec<&str> = rest.split_whitespace().collect();
        let ticks = |place: usize| fields.get(place)?.parse::<f64>().ok();
        let booted = fs::read_to_string("/proc/stat").ok().and_then(|text| {
            text.lines().find_map(|line| line.strip_prefix("btime ")?.trim().parse::<f64>().ok())
        });
        // Fields 14, 15 and 22 of proc(5), counted from the one after the name, which is the third.
        let started = ticks(19).zip(booted).map(|(ticks, booted)| booted + ticks / TICKS);
        Some(Self { processor: (ticks(11)? + ticks(12)?) / TICKS, started })
    }
}

#[expect(clippy::cast_precision_loss, reason = "far below 2^52")]
fn resident() -> Option<f64> {
    let text = fs::read_to_string("/proc/self/statm").ok()?;
    let pages: u64 = text.split_whitespace().nth(1)?.parse().ok()?;
    Some((pages * PAGE) as f64)
}

#[expect(clippy::cast_precision_loss, reason = "far below 2^52")]
fn open_files() -> Option<f64> {
    // The folder that is read is one of them.
    Some(fs::read_dir("/proc/self/fd").ok()?.count().saturating_sub(1) as f64)
}

fn files_most() -> Option<f64> {
    let text = fs::read_to_string("/proc/self/limits").ok()?;
    let line = text.lines().find(|line| line.starts_with("Max open files"))?;
    line.split_whitespace().nth(3)?.parse().ok()
}
