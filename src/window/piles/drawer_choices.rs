//! What is chosen and typed in the materials drawer.
//!
//! In: nothing. Out: [`DrawerState`], with the form that is open in it.
//!
//! Not here: drawing it (`materials`), calculating a material (`material::own`).
//!
//! Tested by: `tests/window/materials.rs`.

use crate::material::Browse;
use crate::material::Material;
use crate::material::own::{BucketTest, LabReport, Made, OwnError, checked, copy_of};
use crate::material::{Catalogue, Confidence, Sourced};
use crate::text::own_material::{copy_name, likeness_note};

/// The drawer, while it is open.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DrawerState {
    /// What is looked for.
    pub browse: Browse,
    /// The material whose page is shown, by id.
    pub chosen: Option<String>,
    /// Whether the list should move to it.
    pub reveal: bool,
    /// Whether the search field has had the keyboard once.
    pub focused: bool,
    /// The form that is open instead of the page.
    pub form: Option<Form>,
}

/// Which form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FormKind {
    /// A copy, every value to be changed.
    Copy,
    /// From a laboratory's report.
    Report,
    /// From a bucket and a scale.
    Bucket,
}

impl FormKind {
    /// All of them, in the order of their buttons.
    pub const ALL: [Self; 3] = [Self::Copy, Self::Report, Self::Bucket];

    /// Its heading.
    pub fn heading(self) -> &'static str {
        match self {
            Self::Copy => "Copy and change",
            Self::Report => "From a lab report",
            Self::Bucket => "From a bucket test",
        }
    }
}

/// A form being filled in.
#[derive(Debug, Clone, PartialEq)]
pub struct Form {
    /// Which.
    pub kind: FormKind,
    /// Name of the new material.
    pub name: String,
    /// The material it is like.
    pub like: Material,
    /// Step of the bucket test, from 0.
    pub step: usize,
    /// Figures of the report.
    pub report: LabReport,
    /// Weights of the bucket test.
    pub bucket: BucketTest,
    /// The copy being changed.
    pub copy: Material,
}

impl Form {
    /// A form that starts from a material.
    pub fn new(kind: FormKind, like: &Material) -> Self {
        Self {
            kind,
            name: match kind {
                FormKind::Copy => copy_name(like),
                FormKind::Report | FormKind::Bucket => String::new(),
            },
            like: like.clone(),
            step: 0,
            report: LabReport::default(),
            bucket: BucketTest {
                bucket_l: 12.0,
                empty_kg: 0.5,
                full_kg: 0.0,
                sample_wet_g: 100.0,
                sample_dry_g: 0.0,
                squeeze: None,
            },
            copy: like.clone(),
        }
    }

    /// The material as it would be, or what is wrong.
    ///
    /// # Errors
    /// [`OwnError`] for the first thing that cannot be.
    pub fn made(&self, catalogue: &Catalogue) -> Result<Made, OwnError> {
        match self.kind {
            FormKind::Report => {
                let made = self.report.material(&self.name, &self.like, catalogue)?;
                Ok(self.noted(made))
            }
            FormKind::Bucket => {
                let made = self.bucket.material(&self.name, &self.like, catalogue)?;
                Ok(self.noted(made))
            }
            FormKind::Copy => self.changed_copy(catalogue),
        }
    }

    /// With the note that says what was not measured.
    fn noted(&self, mut made: Made) -> Made {
        made.material.note = likeness_note(&self.like);
        made
    }

    /// The copy under its name; what was changed is the person's own figure.
    fn changed_copy(&self, catalogue: &Catalogue) -> Result<Made, OwnError> {
        let mut material = copy_of(&self.copy, &self.name, catalogue)?;
        let like = &self.like;
        mark(&mut material.moisture, &like.moisture);
        mark(&mut material.bulk_density, &like.bulk_density);
        mark(&mut material.ash, &like.ash);
        mark(&mut material.lignin, &like.lignin);
        mark(&mut material.phosphate, &like.phosphate);
        mark(&mut material.potash, &like.potash);
        mark(&mut material.ph, &like.ph);
        let carbon = mark(&mut material.carbon, &like.carbon);
        let nitrogen = mark(&mut material.nitrogen, &like.nitrogen);
        if carbon || nitrogen {
            material.carbon_to_nitrogen = ratio(&material.carbon, &material.nitrogen);
        }
        Ok(Made {
            material: checked(material)?,
            workings: Vec::new(),
            doubts: Vec::new(),
        })
    }
}

/// Marks a value as the person's own figure if it differs; whether it does.
fn mark(value: &mut Sourced, before: &Sourced) -> bool {
    let changed = value.range() != before.range();
    if changed {
        value.sources = vec!["OWN".to_owned()];
        value.confidence = Confidence::Recalled;
    }
    changed
}

/// C:N of two values; its ends are those of the two at their worst.
fn ratio(carbon: &Sourced, nitrogen: &Sourced) -> Option<Sourced> {
    (carbon.typical > 0.0 && nitrogen.low > 0.0).then(|| Sourced {
        low: (carbon.low / nitrogen.high).max(0.1),
        typical: carbon.typical / nitrogen.typical,
        high: (carbon.high / nitrogen.low).min(5000.0),
        ..nitrogen.clone()
    })
}
