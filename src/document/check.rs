//! Whether a project can be: every text and number tested against its bound.
//!
//! In: a project, the catalogue. Out: nothing, or the first thing that cannot be, with a remedy.
//!
//! Not here: whether the mix is any good (`mix::bands`), the file it came from (`file`).
//!
//! Tested by: `tests/document/bad_input.rs`, `tests/document/diary.rs`.

use thiserror::Error;

use super::{NEWEST_FORMAT, Project};
use crate::diary::{Diary, DiaryError};
use crate::garden::{Aim, Use};
use crate::heap::{Addition, HeapError, Operation};
use crate::material::{Catalogue, CatalogueError, Material};
use crate::mix::{Mix, MixError};
use crate::quantity::{Measure, OutOfRange, bounds};

/// Longest title, place or name, characters.
pub const NAME_LIMIT: usize = 200;
/// Longest notes, characters: about forty printed pages.
pub const NOTES_LIMIT: usize = 100_000;
/// Longest remark on a material, characters.
pub const REMARK_LIMIT: usize = 4_000;
/// Most ingredients of one mix.
pub const INGREDIENT_LIMIT: usize = 200;
/// Most beds of one garden.
pub const BED_LIMIT: usize = 100;
/// Most own measures of one project.
pub const MEASURE_LIMIT: usize = 50;
/// Most results of field tests of one project.
pub const FIELD_TEST_LIMIT: usize = 500;
/// Most own materials of one project, and most sources of one value.
pub const OWN_MATERIAL_LIMIT: usize = 500;

/// Longest path or link of a photograph, characters.
pub const PHOTO_LIMIT: usize = 1_000;

/// Why a project cannot be.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CheckError {
    /// Format this program does not write.
    #[error("the format is {found}, but only {NEWEST_FORMAT} is known; set it to {NEWEST_FORMAT}")]
    Format {
        /// Format found.
        found: u32,
    },
    /// A text beyond its length.
    #[error("{what}: {found} characters are too many, {limit} are allowed; shorten it")]
    TooLong {
        /// Which text.
        what: String,
        /// Longest allowed.
        limit: usize,
        /// Its length.
        found: usize,
    },
    /// A one-line text with a line break or another control character in it.
    #[error("{what} holds a line break or a control character; remove it")]
    ControlCharacter {
        /// Which text.
        what: String,
    },
    /// A text that must be there and is not.
    #[error("{what} is empty; give it one")]
    Nameless {
        /// Which text.
        what: String,
    },
    /// More entries than a list may have.
    #[error("there are {found} {what}, and at most {limit} can be kept; remove some")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// Most allowed.
        limit: usize,
        /// How many there are.
        found: usize,
    },
    /// An own material whose numbers cannot be.
    #[error("own {0}")]
    OwnMaterial(CatalogueError),
    /// An ingredient or the added water.
    #[error("{}{}", .0, remedy(.0))]
    Mix(MixError),
    /// A number of the heap.
    #[error("{0}; correct that number")]
    Heap(HeapError),
    /// A number of a bed.
    #[error("bed {bed}: {problem}; correct that number")]
    Bed {
        /// Which bed, from 1.
        bed: usize,
        /// What is wrong.
        problem: OutOfRange,
    },
    /// The day of the aim.
    #[error("the aim: {0}; correct that number")]
    Aim(OutOfRange),
    /// The size of an own measure.
    #[error("own measure {entry}: {problem}; correct that number")]
    OwnMeasure {
        /// Which entry, from 1.
        entry: usize,
        /// What is wrong.
        problem: OutOfRange,
    },
    /// A number of a field test.
    #[error("field test {entry}: {problem}; correct that number")]
    FieldTest {
        /// Which entry, from 1.
        entry: usize,
        /// What is wrong.
        problem: OutOfRange,
    },
    /// Material that the plan adds.
    #[error("entry {entry} of the plan: {}{}", .problem, remedy(.problem))]
    Addition {
        /// Entry of the plan, from 1.
        entry: usize,
        /// What is wrong with its mix.
        problem: MixError,
    },
    /// A number of the diary.
    #[error("the diary: {0}")]
    Diary(DiaryError),
}

/// What to do about a problem of the mix, where its own sentence does not say so.
fn remedy(problem: &MixError) -> &'static str {
    match problem {
        MixError::UnknownMaterial { .. } => "",
        MixError::Amount { .. } | MixError::Water(_) => "; correct that number",
    }
}

impl Project {
    /// Checks everything a file could get wrong.
    ///
    /// # Errors
    /// [`CheckError`] for the first text, number, material or list that cannot be.
    pub fn check(&self, catalogue: &Catalogue) -> Result<(), CheckError> {
        self.check_alone()?;
        let catalogue = catalogue
            .with_own(&self.own_materials)
            .map_err(CheckError::OwnMaterial)?;
        self.mix.resolve(&catalogue).map_err(CheckError::Mix)?;
        self.additions(&catalogue)?;
        Ok(())
    }

    /// The sums of everything the plan adds, against the catalogue with the own materials laid over it.
    ///
    /// # Errors
    /// [`CheckError::Addition`] names the first entry that cannot be calculated.
    pub fn additions(&self, catalogue: &Catalogue) -> Result<Vec<Addition>, CheckError> {
        let plan = &self.heap.plan;
        plan.additions(catalogue)
            .map_err(|(index, problem)| CheckError::Addition {
                entry: index + 1,
                problem,
            })
    }

    /// Checks everything that can be checked without a catalogue; saving asks this.
    ///
    /// # Errors
    /// [`CheckError`] for the first text, number or list that cannot be.
    pub fn check_alone(&self) -> Result<(), CheckError> {
        if self.format != NEWEST_FORMAT {
            return Err(CheckError::Format { found: self.format });
        }
        line("the title", &self.title)?;
        line("the place", &self.place)?;
        length("the notes", &self.notes, NOTES_LIMIT)?;
        self.check_mixes_alone()?;
        line("the name of the climate", &self.heap.climate.name)?;
        self.heap.check().map_err(CheckError::Heap)?;
        self.check_garden()?;
        self.check_aim_and_measures()?;
        check_diary(&self.diary)?;
        check_own(&self.own_materials)
    }

    /// Checks the day of the aim and the own measures.
    fn check_aim_and_measures(&self) -> Result<(), CheckError> {
        if let Some(Aim::FinishedBy { day_of_year }) = self.aim {
            bounds::DAY_OF_YEAR
                .check(f64::from(day_of_year))
                .map_err(CheckError::Aim)?;
        }
        count("own measures", self.measures.len(), MEASURE_LIMIT)?;
        for (entry, it) in (1..).zip(&self.measures) {
            named(&format!("the name of own measure {entry}"), &it.name)?;
            bounds::OWN_MEASURE
                .check(it.litres)
                .map_err(|problem| CheckError::OwnMeasure { entry, problem })?;
        }
        Ok(())
    }

    /// Checks beds, uses and field tests.
    fn check_garden(&self) -> Result<(), CheckError> {
        count("beds", self.beds.len(), BED_LIMIT)?;
        for (bed, it) in (1..).zip(&self.beds) {
            line(&format!("the name of bed {bed}"), &it.name)?;
            bounds::BED_AREA
                .check(it.area_m2)
                .map_err(|problem| CheckError::Bed { bed, problem })?;
        }
        count("uses", self.uses.len(), Use::ALL.len())?;
        count(
            "results of field tests",
            self.field_tests.len(),
            FIELD_TEST_LIMIT,
        )?;
        for (entry, it) in (1..).zip(&self.field_tests) {
            line(&format!("the test of result {entry}"), &it.test)?;
            length(
                &format!("the note on field test {entry}"),
                &it.note,
                REMARK_LIMIT,
            )?;
            bounds::DAY_OF_TEST
                .check(it.day)
                .map_err(|problem| CheckError::FieldTest { entry, problem })?;
        }
        Ok(())
    }

    /// Checks the mix and those that the plan adds.
    fn check_mixes_alone(&self) -> Result<(), CheckError> {
        check_mix(&self.mix, "")?;
        for (index, event) in self.heap.plan.events.iter().enumerate() {
            let Operation::Add { mix, .. } = &event.operation else {
                continue;
            };
            let entry = index + 1;
            check_mix(mix, &format!("entry {entry} of the plan: ")).map_err(
                |error| match error {
                    CheckError::Mix(problem) => CheckError::Addition { entry, problem },
                    other => other,
                },
            )?;
        }
        Ok(())
    }
}

/// Checks every text and every number of a diary.
fn check_diary(diary: &Diary) -> Result<(), CheckError> {
    diary.check().map_err(CheckError::Diary)?;
    for (entry, reading) in (1..).zip(&diary.readings) {
        length(
            &format!("the note on reading {entry}"),
            &reading.note,
            REMARK_LIMIT,
        )?;
        let photo = format!("the photo of reading {entry}");
        length(&photo, &reading.photo, PHOTO_LIMIT)?;
        without_control(&photo, &reading.photo)?;
    }
    for (entry, log) in (1..).zip(&diary.logs) {
        named(&format!("the name of probe {entry}"), &log.name)?;
    }
    Ok(())
}

/// Checks amounts, water and the names of own measures; `place` goes before the words of a text.
fn check_mix(mix: &Mix, place: &str) -> Result<(), CheckError> {
    count("ingredients", mix.ingredients.len(), INGREDIENT_LIMIT)?;
    bounds::ADDED_WATER
        .check(mix.added_water_l)
        .map_err(|problem| CheckError::Mix(MixError::Water(problem)))?;
    for (index, ingredient) in mix.ingredients.iter().enumerate() {
        let row = index + 1;
        let amount = |problem| CheckError::Mix(MixError::Amount { row, problem });
        line(
            &format!("{place}the material of ingredient {row}"),
            &ingredient.material,
        )?;
        bounds::AMOUNT
            .check(ingredient.amount.value)
            .map_err(amount)?;
        if let Some(stock) = ingredient.stock {
            bounds::STOCK.check(stock).map_err(amount)?;
        }
        ingredient.condition.check().map_err(amount)?;
        if let Measure::Own { name, litres } = &ingredient.amount.measure {
            named(&format!("{place}the measure of ingredient {row}"), name)?;
            bounds::OWN_MEASURE.check(*litres).map_err(amount)?;
        }
    }
    Ok(())
}

/// Checks texts and numbers of own materials.
pub(super) fn check_own(materials: &[Material]) -> Result<(), CheckError> {
    count("own materials", materials.len(), OWN_MATERIAL_LIMIT)?;
    for (index, material) in materials.iter().enumerate() {
        check_texts(material, index + 1)?;
    }
    Catalogue::default()
        .with_own(materials)
        .map_err(CheckError::OwnMaterial)?;
    Ok(())
}

/// Checks the texts of one own material; `number` counts from 1.
fn check_texts(material: &Material, number: usize) -> Result<(), CheckError> {
    line(&format!("the id of own material {number}"), &material.id)?;
    line(
        &format!("the name of own material {number}"),
        &material.name,
    )?;
    let whose = |what: &str| format!("{what} of own material \"{}\"", material.id);
    length(&whose("the texture"), &material.texture, REMARK_LIMIT)?;
    length(&whose("the note"), &material.note, REMARK_LIMIT)?;
    count(
        "other names of one material",
        material.also_called.len(),
        OWN_MATERIAL_LIMIT,
    )?;
    for called in &material.also_called {
        line(&whose("another name"), called)?;
    }
    let sources = material
        .values()
        .into_iter()
        .map(|(_, value)| &value.sources)
        .chain([&material.pools.sources]);
    for codes in sources {
        count("sources of one value", codes.len(), OWN_MATERIAL_LIMIT)?;
        for code in codes {
            line(&whose("a source"), code)?;
        }
    }
    Ok(())
}

/// A text of one line, not too long.
pub(super) fn line(what: &str, text: &str) -> Result<(), CheckError> {
    length(what, text, NAME_LIMIT)?;
    without_control(what, text)
}

/// A text of one line.
fn without_control(what: &str, text: &str) -> Result<(), CheckError> {
    if text.chars().any(char::is_control) {
        return Err(CheckError::ControlCharacter {
            what: what.to_owned(),
        });
    }
    Ok(())
}

/// A text of one line that must not be blank.
pub(super) fn named(what: &str, text: &str) -> Result<(), CheckError> {
    if text.trim().is_empty() {
        return Err(CheckError::Nameless {
            what: what.to_owned(),
        });
    }
    line(what, text)
}

/// A text, not too long.
pub(super) fn length(what: &str, text: &str, limit: usize) -> Result<(), CheckError> {
    let found = text.chars().count();
    if found > limit {
        return Err(CheckError::TooLong {
            what: what.to_owned(),
            limit,
            found,
        });
    }
    Ok(())
}

/// A list, not too long.
fn count(what: &'static str, found: usize, limit: usize) -> Result<(), CheckError> {
    if found > limit {
        return Err(CheckError::TooMany { what, limit, found });
    }
    Ok(())
}
