//! Everything that leaves the program: tables, a report, JSON, a printed handout, pictures.
//!
//! In: a project with its blend and projection as an [`Assessment`], or the catalogue. Out: CSV in SI
//! with units in the header, plain sentences, JSON of a documented schema, PDF, PNG.
//!
//! Chapter: `words` says things, `report` and `handout` arrange what is said; a [`Sheet`] is a page of
//! marks that `pdf` and `picture` write down; `section` is the inside of a heap as numbers to draw.
//! Not here: project files (`document`), which folder something is written to (`command`).
//!
//! Held against: `tests/document/command.rs`, `tests/document/export.rs`, `tests/document/handout.rs`.

mod font;
mod handout;
mod json;
mod pdf;
mod picture;
mod report;
pub mod section;
mod sheet;
mod table;
mod trial_text;
mod words;

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

use crate::forecast::Inputs;
use crate::heap::{Addition, Projection, Settings, simulate};
use crate::material::Catalogue;
use crate::mix::{Band, Blend, Gauges, bands, blend};

/// A project with everything that is reckoned from it.
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
    /// The mix reckoned through.
    pub blend: Blend,
    /// What would become of the heap; `None` if there is nothing to rot or far too little or too much.
    pub projection: Option<Projection>,
}

impl<'a> Assessment<'a> {
    /// Reckons a project through.
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
        Ok(Self {
            project,
            names: parts
                .iter()
                .map(|part| part.material.name.clone())
                .collect(),
            densities_kg_per_m3: parts
                .iter()
                .map(|part| part.material.bulk_density.typical)
                .collect(),
            addition_texts: words::addition_texts(project, &catalogue),
            projection: simulate(
                &blend.totals,
                &additions,
                &project.heap,
                &Settings::fine(),
                &AtomicBool::new(false),
            ),
            additions,
            blend,
        })
    }

    /// What a forecast of it begins with.
    pub fn inputs(&self) -> Inputs {
        Inputs {
            additions: self.additions.clone(),
            gauges: self.blend.gauges,
            ..Inputs::of(&self.blend.totals, &self.project.heap)
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

/// The word for each gauge that is judged; `None` where there is no band or no value.
struct Words {
    cn: Option<&'static str>,
    moisture: Option<&'static str>,
    free_air_space: Option<&'static str>,
    wet_bulk_density: Option<&'static str>,
    volume: Option<&'static str>,
}
