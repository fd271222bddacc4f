//! Everything that leaves the program: tables, a report, JSON, a printed handout, pictures.
//!
//! In: a project with its blend and projection as an [`Assessment`], or the catalogue. Out: CSV in SI
//! with units in the header, plain sentences, JSON of a documented schema, PDF, PNG.
//!
//! Chapter: `words` says things, `report` and `handout` arrange what is said; a [`Sheet`] is a page of
//! marks that `pdf` and `picture` write down; `section` is the inside of a heap as numbers to draw.
//! Not here: project files (`document`), which folder something is written to (`command`).
//!
//! Tested by: `tests/document/command.rs`, `tests/document/export.rs`, `tests/document/handout.rs`.

mod balancing;
mod font;
mod handout;
mod json;
mod outcome_json;
mod outcome_text;
mod pdf;
mod picture;
mod report;
pub mod section;
mod sheet;
mod table;
mod trial_text;
mod words;

pub use balancing::{balance_text, gauge_text, verdict_lines, way_brings};
pub use handout::{
    Caution, Handout, Paper, curve_sheet, handout, handout_sheet, handout_text, section_sheet,
};
pub use json::{SCHEMA, json};
pub use pdf::{PdfError, pdf};
pub use picture::{PictureError, picture_png};
pub use report::report;
pub use sheet::{Mark, Pen, Point, Sheet, Type, Weight};
pub use table::{catalogue_csv, catalogue_text, projection_csv};
pub use trial_text::trial_text;

use crate::document::{CheckError, Project};
use std::sync::atomic::AtomicBool;

use crate::forecast::{Inputs, ensemble, weigh};
use crate::heap::{Addition, Kinetics, Projection, Resolution, simulate};
use crate::material::Catalogue;
use crate::mix::{Band, Blend, Gauges, Ingredient, Part, bands, blend};
use crate::outcome::{Case, Outcome, advise, shared};
use crate::quantity::UnitSystem;

/// A project with everything that is calculated from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessment<'a> {
    /// The project.
    pub project: &'a Project,
    /// Name of each ingredient's material, in order.
    pub names: Vec<String>,
    /// Loose density of each ingredient's material, kg/m3, in order.
    pub densities_kg_per_m3: Vec<f64>,
    /// What each addition of the plan brings, in the order of the plan.
    pub addition_texts: Vec<String>,
    /// Its sums.
    pub additions: Vec<Addition>,
    /// The mix, blended.
    pub blend: Blend,
    /// What would become of the heap; `None` if there is nothing to rot or far too little or too much.
    pub projection: Option<Projection>,
    /// What is judged of that; `None` without a projection.
    pub outcome: Option<Outcome>,
}

impl<'a> Assessment<'a> {
    /// Calculates everything about a project.
    ///
    /// # Errors
    /// [`CheckError`] if a material is unknown or a number cannot be.
    pub fn of(project: &'a Project, catalogue: &Catalogue) -> Result<Self, CheckError> {
        project.check(catalogue)?;
        let catalogue = catalogue
            .with_own(&project.own_materials)
            .map_err(CheckError::OwnMaterial)?;
        let parts = project.mix.resolve(&catalogue).map_err(CheckError::Mix)?;
        let blend = blend(&parts, project.mix.added_water_l);
        let additions = project.additions(&catalogue)?;
        let projection = simulate(
            &blend.totals,
            &additions,
            &project.heap,
            &Resolution::fine(),
            &AtomicBool::new(false),
        );
        let outcome = projection
            .as_ref()
            .and_then(|projection| judged(project, projection, &parts, &blend, &catalogue));
        Ok(Self {
            project,
            names: project
                .mix
                .ingredients
                .iter()
                .map(|row| name_of(row, &catalogue))
                .collect(),
            projection,
            outcome,
            densities_kg_per_m3: parts
                .iter()
                .map(|part| part.material.bulk_density.typical)
                .collect(),
            addition_texts: words::addition_texts(project, &catalogue),
            additions,
            blend,
        })
    }

    /// Cautions that apply, for the handout.
    pub fn cautions(&self) -> Vec<Caution> {
        let cautions = self.outcome.iter().flat_map(|outcome| &outcome.cautions);
        cautions
            .map(|caution| Caution {
                line: caution.text.clone(),
                source: caution.source.clone(),
            })
            .collect()
    }

    /// What a forecast of it begins with.
    pub fn inputs(&self) -> Inputs {
        Inputs {
            additions: self.additions.clone(),
            gauges: self.blend.gauges,
            ..Inputs::of(&self.blend.totals, &self.project.heap)
        }
    }

    /// Gives the outcome its likelihoods, by an ensemble of so many members; nothing without an outcome.
    pub fn weigh(&mut self, members: usize) {
        let inputs = self.inputs();
        let (Some(outcome), Some(facts)) = (&mut self.outcome, shared()) else {
            return;
        };
        let never = AtomicBool::new(false);
        if let Some(forecast) = ensemble(&inputs, members, 1, &never, |_| {}) {
            weigh(outcome, &forecast, facts);
        }
    }

    /// Why there are no gauges or no projection, in one sentence; `None` if there are both.
    pub fn remark(&self) -> Option<&'static str> {
        let mix = &self.project.mix;
        if self.blend.gauges.is_none() {
            Some(if self.blend.totals.water_kg > 0.0 {
                "The mix is only water: add an ingredient with dry matter to see its gauges."
            } else if mix.ingredients.is_empty() {
                "The mix is empty: add an ingredient to see its gauges."
            } else {
                "Every amount is zero: give an ingredient an amount to see the gauges."
            })
        } else if self.projection.is_none() {
            Some(
                "Nothing is projected: a heap of this volume is outside what the model covers, so change the amounts.",
            )
        } else {
            None
        }
    }

    /// Band the volume is judged by, where the heap has a brim.
    fn volume_band(&self) -> Option<Band> {
        self.project.heap.shape.room_m3().map(bands::volume)
    }

    /// The gauges with the words for them.
    fn words(&self, gauges: &Gauges) -> Words {
        let word = |band: Band, value: f64| (!value.is_nan()).then(|| band.judge(value).word);
        Words {
            cn: word(bands::CN, gauges.cn.typical),
            moisture: word(bands::MOISTURE, gauges.moisture.typical),
            free_air_space: word(bands::FREE_AIR_SPACE, gauges.free_air_space.typical),
            wet_bulk_density: word(
                bands::BULK_DENSITY_KG_PER_M3,
                gauges.wet_bulk_density_kg_per_m3.typical,
            ),
            volume: self
                .volume_band()
                .and_then(|band| word(band, gauges.volume_m3.typical)),
        }
    }
}

/// The outcome of a project that has been checked.
fn judged(
    project: &Project,
    projection: &Projection,
    parts: &[Part<'_>],
    blend: &Blend,
    catalogue: &Catalogue,
) -> Option<Outcome> {
    // All of it has been resolved before.
    let all = project.all_parts(catalogue).ok()?;
    let room = project.heap.shape.room_m3();
    let units = UnitSystem::Metric;
    let advice = advise(&project.mix, parts, blend, room, Some(projection), units);
    let case = Case {
        projection,
        heap: &project.heap,
        totals: &blend.totals,
        parts: &all,
        advice: &advice,
        uses: &project.uses,
        units,
        kinetics: &Kinetics::default(),
    };
    Outcome::of(&case, shared()?)
}

/// The word for each gauge that is judged; `None` where there is no band or no value.
struct Words {
    cn: Option<&'static str>,
    moisture: Option<&'static str>,
    free_air_space: Option<&'static str>,
    wet_bulk_density: Option<&'static str>,
    volume: Option<&'static str>,
}

/// Name of an ingredient, with its state in brackets where that differs from the catalogue's.
fn name_of(row: &Ingredient, catalogue: &Catalogue) -> String {
    let Some(material) = catalogue.find(&row.material) else {
        return row.material.clone();
    };
    match row.condition.words(material).as_str() {
        "" => material.name.clone(),
        words => format!("{} ({words})", material.name),
    }
}
