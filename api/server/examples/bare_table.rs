//! The csv crate alone, as a yardstick: a table is read and written again, cell by
//! cell, and nothing is calculated.
//!
//! `bare_table IN OUT`

use std::io::BufWriter;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut files = std::env::args_os().skip(1);
    let (from, to) = files.next().zip(files.next()).ok_or("bare_table IN OUT")?;
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_path(from)?;
    let mut writer = csv::Writer::from_writer(BufWriter::new(std::fs::File::create(to)?));
    let mut row = csv::ByteRecord::new();
    while reader.read_byte_record(&mut row)? {
        writer.write_byte_record(&row)?;
    }
    writer.flush()?;
    Ok(())
}
