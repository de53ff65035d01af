//! Numbers as a reader writes them: in the reader's units, grouped, with a point or a comma.

use crate::manner::Manner;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::quantity::{Money, Quantity, Row, UnitSystem};

/// A blank at which no line is broken.
const HARD_BLANK: char = '\u{a0}';
/// The blank between groups of digits.
const THIN_BLANK: char = '\u{2009}';

/// How the numbers of a picture are written.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Figures<'a> {
    /// The units that they are in.
    pub(crate) units: UnitSystem,
    comma: bool,
    currency: Option<&'a str>,
}

impl<'a> Figures<'a> {
    pub(crate) fn of(units: UnitSystem, manner: Manner, currency: Option<&'a str>) -> Self {
        Self { units, comma: manner.decimal_comma, currency }
    }

    /// A number of the engine, as the reader has it.
    pub(crate) fn shown(&self, row: &Row, metric: f64) -> f64 {
        row.units.from_metric(metric, self.units)
    }

    /// The unit of a kind of quantity; none of bare numbers, and of money whose currency nobody
    /// named.
    pub(crate) fn unit(&self, row: &Row) -> &'a str {
        if row.name == Money::ROW.name {
            return self.currency.unwrap_or_default();
        }
        row.units.in_system(self.units).symbol
    }

    /// The name of an axis with its unit: "volume, L".
    pub(crate) fn with_unit(&self, label: &str, row: &Row) -> String {
        match self.unit(row) {
            "" => label.to_owned(),
            unit => format!("{label}, {unit}"),
        }
    }

    /// An amount with its unit, to three digits.
    pub(crate) fn amount(&self, row: &Row, metric: f64) -> String {
        self.amount_to(row, metric, 3)
    }

    /// An amount with its unit, to so many digits.
    pub(crate) fn amount_to(&self, row: &Row, metric: f64, digits: i32) -> String {
        let mut text = self.number(round_to(self.shown(row, metric), digits));
        let unit = self.unit(row);
        if !unit.is_empty() {
            text.push(HARD_BLANK);
            // The unit itself may have blanks; it is not broken either.
            text.extend(unit.chars().map(|own| if own == ' ' { HARD_BLANK } else { own }));
        }
        text
    }

    /// The same with a bare per cent sign, where there is little room.
    pub(crate) fn short_amount(&self, row: &Row, metric: f64) -> String {
        self.amount(row, metric).replace("%\u{a0}by\u{a0}volume", "%")
    }

    /// A number as it is, grouped by thousands from five digits on.
    pub(crate) fn number(&self, number: f64) -> String {
        const GROUPED_FROM: usize = 5;
        const LARGE: f64 = 1e15;
        const SMALL: f64 = 1e-4;
        let size = number.abs();
        let plain = if size != 0.0 && !(SMALL..LARGE).contains(&size) {
            format!("{number:e}")
        } else {
            format!("{}", number + 0.0)
        };
        let (sign, digits) =
            plain.strip_prefix('-').map_or(("", plain.as_str()), |rest| ("−", rest));
        let (whole, rest) = match digits.find(['.', 'e']) {
            Some(at) => digits.split_at(at),
            None => (digits, ""),
        };
        let mut text = String::from(sign);
        for (i, digit) in whole.chars().enumerate() {
            let left = whole.len() - i;
            if whole.len() >= GROUPED_FROM && i > 0 && left % 3 == 0 {
                text.push(THIN_BLANK);
            }
            text.push(digit);
        }
        if self.comma {
            text.push_str(&rest.replace('.', ","));
        } else {
            text.push_str(rest);
        }
        text
    }

    /// A share of a whole, in per cent.
    pub(crate) fn per_cent(&self, share: f64) -> String {
        format!("{}{HARD_BLANK}%", self.number(round_to(100.0 * share, 2)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sumpwright_engine::quantity::Volume;

    #[test]
    fn numbers_are_written_as_the_reader_does() {
        let point = Figures::of(UnitSystem::Metric, Manner::default(), Some("dollars"));
        let comma = Manner { decimal_comma: true, ..Manner::default() };
        let comma = Figures::of(UnitSystem::Us, comma, None);
        assert_eq!(point.number(217_353.5), "217\u{2009}353.5");
        assert_eq!(point.number(-3820.0), "−3820");
        assert_eq!(comma.number(1_234_567.25), "1\u{2009}234\u{2009}567,25");
        assert_eq!(point.number(-0.0), "0");
        assert_eq!(comma.amount(Volume::ROW, 378.541_178_4), "100\u{a0}US\u{a0}gal");
        assert_eq!(point.amount(Money::ROW, 8166.4), "8170\u{a0}dollars");
        assert_eq!(comma.with_unit("spent", Money::ROW), "spent");
        assert_eq!(point.number(2e20), "2e20");
    }
}
