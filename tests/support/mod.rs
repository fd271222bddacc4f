//! Canonical mixes and heaps shared by the tests.

pub mod heaps;
pub mod materials;
