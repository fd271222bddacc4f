//! Runs of heaps that several comparisons have in common, made once.
//!
//! In: the heaps of all comparisons that are to come. Out: the run of a member, made or found.
//!
//! A heap that stands in one comparison alone is not kept, and one whose last comparison is done is let go, so that only
//! what is needed again is held: some 8 MB for 200 runs without fields.
//! Not here: how members are paired (`pairs`), what they are (`draw`).
//!
//! Tested by: `tests/science/trials.rs`.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::heap::{Ended, Projection};

use super::Inputs;

/// Runs kept from one comparison to the next. All are to be made with the same settings.
#[derive(Debug, Default)]
pub struct KeptRuns {
    heaps: Vec<KeptHeap>,
}

/// A heap that stands in several comparisons.
#[derive(Debug)]
pub(super) struct KeptHeap {
    inputs: Inputs,
    /// Comparisons in which it still stands.
    left: AtomicUsize,
    runs: Mutex<BTreeMap<u32, Arc<Projection>>>,
}

impl KeptRuns {
    /// For comparisons that are to come, with both heaps of each.
    pub fn of<'a>(to_come: impl IntoIterator<Item = &'a Inputs>) -> Self {
        let mut counted: Vec<(&Inputs, usize)> = Vec::new();
        for inputs in to_come {
            match counted.iter_mut().find(|(known, _)| *known == inputs) {
                Some((_, many)) => *many += 1,
                None => counted.push((inputs, 1)),
            }
        }
        let shared = counted.into_iter().filter(|(_, many)| *many > 1);
        Self {
            heaps: shared
                .map(|(inputs, many)| KeptHeap {
                    inputs: inputs.clone(),
                    left: AtomicUsize::new(many),
                    runs: Mutex::default(),
                })
                .collect(),
        }
    }

    /// The heap of these inputs, if its runs are kept.
    pub(super) fn heap(&self, inputs: &Inputs) -> Option<&KeptHeap> {
        self.heaps.iter().find(|heap| heap.inputs == *inputs)
    }

    /// Says that a comparison with this heap is done.
    pub(super) fn done_with(&self, inputs: &Inputs) {
        if let Some(heap) = self.heap(inputs)
            && heap.left.fetch_sub(1, Ordering::Relaxed) <= 1
        {
            heap.runs().clear();
        }
    }
}

impl KeptHeap {
    fn runs(&self) -> MutexGuard<'_, BTreeMap<u32, Arc<Projection>>> {
        self.runs.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The run of a member, made if it is not there yet; one that was called off is not kept.
    pub(super) fn member(
        &self,
        number: u32,
        make: impl FnOnce() -> Option<Projection>,
    ) -> Option<Arc<Projection>> {
        if let Some(run) = self.runs().get(&number) {
            return Some(Arc::clone(run));
        }
        let run = Arc::new(make()?);
        if !matches!(run.ended, Ended::Cancelled { .. }) {
            self.runs().insert(number, Arc::clone(&run));
        }
        Some(run)
    }
}
