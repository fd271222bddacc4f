//! Whether what was calculated still belongs to what is asked about.
//!
//! In: a [`Subject`]. Out: [`Key`], compared with another subject without copying anything.
//!
//! Materials are compared by the catalogue they stand in, not one by one: whoever changes a material makes a new
//! catalogue. Units are no part of a key.
//! Not here: what is calculated (`stages`).
//!
//! Tested by: `tests/document/assess.rs`.

use std::sync::Arc;

use crate::garden::{Aim, TestResult, Use};
use crate::heap::Heap;
use crate::material::Catalogue;
use crate::mix::Mix;

use super::subject::Subject;

/// What something was calculated of.
#[derive(Debug, Clone)]
pub struct Key {
    mix: Mix,
    heap: Heap,
    uses: Vec<Use>,
    tests: Vec<TestResult>,
    aim: Option<Aim>,
    catalogue: Arc<Catalogue>,
}

impl Key {
    /// The key of a subject.
    pub fn of(subject: &Subject<'_>) -> Self {
        Self {
            mix: subject.mix.clone(),
            heap: subject.heap.clone(),
            uses: subject.uses.to_vec(),
            tests: subject.tests.to_vec(),
            aim: subject.aim,
            catalogue: Arc::clone(subject.catalogue),
        }
    }

    /// The subject it is the key of.
    pub(super) fn subject(&self) -> Subject<'_> {
        Subject {
            mix: &self.mix,
            heap: &self.heap,
            uses: &self.uses,
            tests: &self.tests,
            aim: self.aim,
            catalogue: &self.catalogue,
        }
    }

    /// Whether a blend belongs to the subject.
    pub fn has_mix_of(&self, subject: &Subject<'_>) -> bool {
        Arc::ptr_eq(&self.catalogue, subject.catalogue) && self.mix == *subject.mix
    }

    /// Whether inputs, projection and forecast belong to the subject.
    pub fn has_heap_of(&self, subject: &Subject<'_>) -> bool {
        self.has_mix_of(subject) && self.heap == *subject.heap
    }

    /// Whether advice is for the aim of the subject.
    pub(super) fn has_aim_of(&self, subject: &Subject<'_>) -> bool {
        self.aim == subject.aim
    }

    /// Whether an outcome belongs to the subject.
    pub fn is_of(&self, subject: &Subject<'_>) -> bool {
        self.has_heap_of(subject) && self.uses == subject.uses && self.tests == subject.tests
    }
}
