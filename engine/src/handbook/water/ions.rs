//! How much of a water's conductivity each known salt's ions make.
//!
//! Limiting molar conductivities at 25 °C, of an equivalent of the ion, S·cm²/mol, and the mass of
//! an equivalent, g/mol: from memory, as in handbooks of chemistry. In real water ions hinder each
//! other, so that their sum lies some per cent above what is measured: an estimate.

/// An ion: its names, the mass of an equivalent and the conductivity of an equivalent.
struct Ion {
    names: &'static [&'static str],
    mass: f64,
    conductivity: f64,
}

const IONS: [Ion; 7] = [
    Ion { names: &["chloride", "chlorid", "cl"], mass: 35.453, conductivity: 76.35 },
    Ion { names: &["sulphate", "sulfate", "sulfat", "so4"], mass: 48.03, conductivity: 80.0 },
    Ion { names: &["nitrate", "nitrat", "no3"], mass: 62.005, conductivity: 71.46 },
    Ion { names: &["sodium", "natrium", "na"], mass: 22.990, conductivity: 50.08 },
    Ion { names: &["calcium", "ca"], mass: 20.039, conductivity: 59.47 },
    Ion { names: &["magnesium", "mg"], mass: 12.152, conductivity: 53.0 },
    Ion { names: &["bicarbonate", "hydrogencarbonate", "hco3"], mass: 61.017, conductivity: 44.5 },
];

/// The conductivity that so many mg/L of an ion make, µS/cm; none where the name is of no ion that
/// is known here.
#[must_use]
pub fn conductivity_of(name: &str, milligrams_per_litre: f64) -> Option<f64> {
    let ion = IONS.iter().find(|ion| ion.names.contains(&name.to_lowercase().as_str()))?;
    Some(milligrams_per_litre / ion.mass * ion.conductivity)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a millimole of sodium chloride in a litre, 22.990 and 35.453 mg, has a limiting
    /// conductivity of 50.08 + 76.35 = 126.43 µS/cm.
    #[test]
    fn table_salt_conducts_as_its_ions() {
        let both =
            conductivity_of("Sodium", 22.990).unwrap() + conductivity_of("cl", 35.453).unwrap();
        assert!((both - 126.43).abs() < 1e-9);
        assert_eq!(conductivity_of("fines", 10.0), None);
    }
}
