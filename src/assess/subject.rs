//! What is assessed: the mix, the heap and the uses of a project, with the materials it knows.
//!
//! In: a project, a catalogue with the project's own materials laid over it. Out: [`Subject`], a view that costs
//! nothing to make.
//!
//! Not here: looking materials up (`resolved`).
//!
//! Tested by: `tests/document/assess.rs`.

use std::sync::Arc;

use crate::document::Project;
use crate::garden::{Aim, TestResult, Use};
use crate::heap::Heap;
use crate::material::Catalogue;
use crate::mix::Mix;

/// What is assessed.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// What goes in.
    pub mix: &'a Mix,
    /// Where and how it stands, and what is done to it.
    pub heap: &'a Heap,
    /// What the compost is for.
    pub uses: &'a [Use],
    /// Results of field tests of the compost itself.
    pub tests: &'a [TestResult],
    /// What is wanted of the heap.
    pub aim: Option<Aim>,
    /// All materials, the project's own among them. Two subjects know the same materials if they share this.
    pub catalogue: &'a Arc<Catalogue>,
}

impl<'a> Subject<'a> {
    /// A project, with the catalogue that has its own materials laid over it.
    pub fn of(project: &'a Project, catalogue: &'a Arc<Catalogue>) -> Self {
        Self {
            mix: &project.mix,
            heap: &project.heap,
            uses: &project.uses,
            tests: &project.field_tests,
            aim: project.aim,
            catalogue,
        }
    }

    /// Volume that its bin or bay holds, m3; `None` without a fixed size.
    pub fn room_m3(&self) -> Option<f64> {
        self.heap.shape.room_m3()
    }
}
