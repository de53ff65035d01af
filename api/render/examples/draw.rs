//! Draws the pictures of every example into a folder, to look at them.
//!
//! `cargo run -p sumpwright-render --example draw -- FOLDER [WIDTH ...]`

use sumpwright_engine::quantity::UnitSystem;
use sumpwright_openapi::service::Services;
use sumpwright_render::{Manner, svg};

fn main() -> std::io::Result<()> {
    let mut arguments = std::env::args().skip(1);
    let folder = arguments.next().unwrap_or_else(|| ".".to_owned());
    let widths: Vec<u16> = arguments.filter_map(|width| width.parse().ok()).collect();
    let widths = if widths.is_empty() { vec![Manner::default().width] } else { widths };
    for service in Services::new().iter().filter(|service| service.has_pictures()) {
        let mut us: serde_json::Value = serde_json::from_str(service.example)?;
        service.question.from_metric(&mut us, UnitSystem::Us);
        us["units"] = "us".into();
        let documents = [("", service.example.to_owned()), ("-us", us.to_string())];
        for (suffix, document) in documents {
            let Ok(to_draw) = service.pictures(document.as_bytes()) else { continue };
            for width in &widths {
                let drawn = svg(&to_draw, Manner { width: *width, decimal_comma: false });
                std::fs::write(format!("{folder}/{}{suffix}-{width}.svg", service.name), drawn)?;
            }
        }
    }
    Ok(())
}
