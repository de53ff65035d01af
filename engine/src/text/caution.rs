//! Cautions: what can hurt in doing what an answer says.

use crate::quantity::{Mass, Quantity};
use crate::sentence;
use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// Something that can hurt a person, a machine or the environment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = RecordCaution)]
pub struct Caution {
    /// # Code
    ///
    /// A code for programs.
    #[schema(example = "concentrate-on-skin")]
    pub code: Cow<'static, str>,
    /// # Caution
    ///
    /// The caution, for the person who does the work.
    #[schema(value_type = String)]
    pub text: Sentence,
}

impl Caution {
    const fn new(code: &'static str, text: &'static str) -> Self {
        Self { code: Cow::Borrowed(code), text: Sentence::fixed(text) }
    }

    /// Handling neat concentrate.
    pub const CONCENTRATE: Self = Self::new(
        "concentrate-on-skin",
        "Neat concentrate irritates skin and eyes and is slippery underfoot. Wear the gloves and \
         eye protection that its safety data sheet names, and clean up spills at once.",
    );
    /// Working on a machine's sump.
    pub const MACHINE: Self = Self::new(
        "machine-may-start",
        "A machine can start and a pump can draw while you work at its sump. Lock it out before \
         you reach in, and mind sharp chips.",
    );
    /// Keeping fluid off skin and out of the air.
    pub const SKIN_AND_MIST: Self = Self::new(
        "skin-and-mist",
        "Used fluid carries fines, microbes and biocide. Keep it off the skin, do not breathe its \
         mist, and follow the fluid's safety data sheet.",
    );
    /// Breathing near machines at work and near microbes. (UK HSE's guidance is about
    /// this; NIOSH 98-102, 1998: 0.4 mg/m³ thoracic.)
    pub const BREATHING: Self = Self::new(
        "asthma-and-alveolitis",
        "Mist of fluid, most of all of fluid that microbes have taken, causes asthma and \
         alveolitis, which may stay for life. Keep machines enclosed and extracted and their doors \
         shut until the mist is gone; mist stays below 0.4 mg/m³ (thoracic, over a working day: \
         NIOSH) or the local limit where that is lower. Whoever coughs, wheezes or runs a fever at \
         work sees a doctor who is told of the fluid.",
    );
    /// Sumps that stood, and what lies at their bottom.
    pub const BAD_AIR: Self = Self::new(
        "bad-air-from-a-dead-sump",
        "Fluid and sludge that stood without air give off hydrogen sulphide once they are stirred. \
         It smells of rotten eggs, dulls the nose and then kills. Air the place first, keep the \
         head out of the sump, and never work on it alone.",
    );
    /// Metals that fluid and sludge take up in grinding. (From memory: cobalt leaches
    /// from the binder of carbide; nickel and chromium come from steels.)
    pub const METALS_IN_FLUID: Self = Self::new(
        "metals-in-fluid",
        "Fluid and sludge from grinding carbide hold cobalt, from steels nickel and chromium. They \
         make skin and lungs allergic, and some cause cancer. Have them measured, keep both off \
         the skin, and clean up wet, never with compressed air.",
    );
    /// Nitrite in fluid that holds amines. (TRGS 611.)
    pub const NITROSAMINES: Self = Self::new(
        "nitrosamines",
        "Nitrite and amines form nitrosamines, which cause cancer. Never put nitrite, or another \
         fluid or cleaner that holds it, into fluid with secondary amines; find out where it comes \
         from, and change the fluid where the limit of the local rules is passed.",
    );
    /// What is drained is waste.
    pub const DRAINED_FLUID: Self = Self::new(
        "drained-fluid-is-waste",
        "Drained fluid is for the recycler or the waste tank, never for the floor drain or the \
         ground. Local codes decide how it is stored and who may take it.",
    );
    /// Filling vessels and sumps.
    pub const OVERFILLING: Self = Self::new(
        "overfilling",
        "Watch the level of whatever is filled, leave room for what is still in the line and for \
         foam, and stop below the mark. A float or a cut-out is a safeguard, not a level control.",
    );
    /// Lifting a vessel of chips.
    #[must_use]
    pub fn lifting(mass: Mass) -> Self {
        let text = sentence!(
            "Chips in one vessel come to {}, without the vessel. Lift and tip it with rated gear \
             only, nobody below it, hands clear.",
            mass.roughly()
        );
        Self { code: Cow::Borrowed("heavy-load"), text }
    }
    /// Handling chips.
    pub const SHARP_CHIPS: Self = Self::new(
        "sharp-chips",
        "Chips cut. Wear gloves made against cuts, and move chips with a rake, never by hand.",
    );
    /// Fines of light metals.
    pub const METAL_FINES: Self = Self::new(
        "metal-fines",
        "Fines of aluminium and magnesium burn, and wet they give off hydrogen. Keep hot work \
         and sparks away, keep them apart from other chips, and follow the local fire code. Never \
         put water on burning light metal: it explodes. Dry sand or powder made for metal fires \
         smothers it.",
    );
    /// Entering pits and large sumps.
    pub const CONFINED_SPACE: Self = Self::new(
        "confined-space",
        "A pit or a large sump can be a confined space with bad air. Nobody enters or leans in \
         without the permit and the watch that local rules ask for.",
    );
    /// Adding biocide or a system cleaner.
    pub const BIOCIDE: Self = Self::new(
        "biocide-by-label",
        "Use biocides and system cleaners by their label only, in the dose and with the \
         protection that it names. Never bring them together with acid or bleach: that can give \
         off poisonous gas.",
    );
    /// Handling what is dosed into a sump.
    pub const ADDITIVE: Self = Self::new(
        "neat-additive",
        "What is dosed is far stronger than the fluid: it burns skin and eyes, and some of it makes \
         skin allergic for life. Wear the gloves and the eye protection of its safety data sheet, \
         never bring two products together, and none together with acid or bleach.",
    );
    /// Changing the pH of a fluid.
    pub const CAUSTIC: Self = Self::new(
        "caustic",
        "What raises a pH is caustic and blinds. Pour it into fluid, never fluid into it, and have \
         an eye wash at hand.",
    );
    /// Complaints are no reason for a dose.
    pub const NO_DOSE_AGAINST_SKIN: Self = Self::new(
        "no-dose-against-skin-complaints",
        "Nobody doses against skin complaints or coughs. Keep the person away from the fluid, have a \
         doctor told of it, and find the cause first.",
    );
    /// Pasteurising and dosing biocide in a recycler.
    pub const HEAT_AND_BIOCIDE: Self = Self::new(
        "heat-and-biocide",
        "Heated fluid scalds and its vapour is not to be breathed, and some biocides must not be \
         heated. Heat and dose by the rules of the equipment and of the biocide's label.",
    );
    /// What a recycler takes out of the fluid.
    pub const SKIMMINGS_AND_SLUDGE: Self = Self::new(
        "skimmings-and-sludge",
        "Skimmed oil, sludge and rinse water are waste. What kind of waste, and whether it is \
         hazardous, is for you and the local authority to determine under local codes.",
    );
    /// Centrifuges and whatever else spins.
    pub const SPINNING_MACHINERY: Self = Self::new(
        "spinning-machinery",
        "A bowl that bursts kills. Run a centrifuge with its guards and interlocks in place, at \
         no more than its rated speed and with a fluid that its manual allows, and open it only \
         when it stands still and is locked out.",
    );
    /// What a cost is not.
    pub const NO_PERMISSION: Self = Self::new(
        "cost-is-no-permission",
        "A cost is not a permission. What kind of waste a spent fluid is, whether any of it may \
         go to a sewer, and how it is stored and carried is for the generator, its authority and \
         licensed carriers to decide.",
    );
    /// Electrical equipment near fluid.
    pub const ELECTRICAL_WORK: Self = Self::new(
        "electrical-work",
        "Circuits are installed by licensed electricians to the local code, and electrical \
         equipment near fluid needs the protection that the code asks for.",
    );
    /// Engines indoors.
    pub const ENGINE_EXHAUST: Self = Self::new(
        "engine-exhaust",
        "An engine gives off carbon monoxide. Run fuelled equipment indoors only as its maker and \
         local codes allow, and keep fuel away from hot work and sparks.",
    );
    /// What a projection of waste is not.
    pub const WASTE_DETERMINATION: Self = Self::new(
        "waste-determination",
        "Whether a stream is hazardous waste is for its generator and the authority to determine. \
         Masses, categories and codes here are a projection and candidates to confirm, never a \
         determination.",
    );
    /// Sending water to a sewer.
    pub const SEWER_PERMIT: Self = Self::new(
        "permit-before-the-sewer",
        "Nothing here permits a discharge. Permeate, condensate and wash water go to a sewer only \
         with the permit of its authority and within its limits; without one they are waste.",
    );
    /// Keeping waste and handing it over.
    pub const STORAGE_AND_TRANSPORT: Self = Self::new(
        "storage-and-transport",
        "How long and in what waste may be kept, how it is labelled, and who may carry it, local \
         codes and the authority say; only licensed carriers take it away. A planned pickup is a \
         plan and no leave to wait until then.",
    );
    /// Fluids that do not go together in one tank.
    pub const INCOMPATIBLE_FLUIDS: Self = Self::new(
        "incompatible-fluids",
        "Mix and recycle only fluids together that their makers call compatible. Incompatible \
         ones can split, gel or give off vapours, and spoil the whole tank.",
    );
    /// Acid in the split test.
    pub const ACID: Self = Self::new(
        "acid",
        "The split test uses strong acid. Work by its safety data sheet with eye protection and \
         gloves, and add acid to the sample, never the sample to acid.",
    );
    /// The titrant of a titration.
    pub const TITRANT: Self = Self::new(
        "titrant",
        "A titrant is acid or caustic, weak or not. Work by its safety data sheet with eye \
         protection and gloves, and throw the sample away as that sheet says, not back into the \
         sump.",
    );
}
