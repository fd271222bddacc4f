//! The plan search against the plain way of looking, and against what every composter expects.

use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use heapwright::forecast::Inputs;
use heapwright::forecast::plan_search::{Proposed, Search, Want, search};
use heapwright::outcome::shared;

use crate::support::heaps::{GOOD, mesh_cube};
use crate::support::within;

fn inputs() -> Inputs {
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = 60.0;
    Inputs::of(&GOOD.totals(), &heap)
}

fn found(want: Want) -> Proposed {
    let wanted = Search {
        want,
        ..Search::default()
    };
    search(
        &inputs(),
        &wanted,
        shared().unwrap(),
        &AtomicBool::new(false),
        |_| {},
    )
    .unwrap()
}

#[test]
fn seeds_want_more_turning_than_little_work_does() {
    // `common practice`: a heap that is never turned leaves the seeds of its skin alive; turnings buy them, each less
    // than the one before; who wants little work turns less.
    let began = Instant::now();
    let kill = found(Want::KillSeeds);
    println!(
        "{:?} for {} timetables: {:?}",
        began.elapsed(),
        kill.tried,
        kill.chosen
    );
    for row in &kill.turnings {
        println!("{row:?}");
    }
    for tried in &kill.trade_off {
        println!(
            "work {} treated {:.2} finished {:?}",
            tried.work, tried.treated, tried.finished_day
        );
    }
    assert!(kill.chosen.treated > kill.untouched.treated + 0.1);
    assert!(kill.chosen.timetable.count >= 2);
    let lazy = found(Want::LeastWork);
    assert!(lazy.chosen.work < kill.chosen.work, "{:?}", lazy.chosen);
    assert!(lazy.chosen.score >= lazy.untouched.score);
}

#[test]
fn nothing_tried_beats_what_is_proposed() {
    for want in Want::ALL {
        let proposed = found(want);
        // The trade-off holds the best of each amount of work, rising in both.
        let front = &proposed.trade_off;
        assert!(
            front
                .windows(2)
                .all(|p| p[1].work > p[0].work && p[1].treated > p[0].treated)
        );
        assert_eq!(front[0].work, 0.0);
        if want == Want::KillSeeds {
            let most = front.last().unwrap().treated;
            within("chosen", proposed.chosen.treated, most - 0.0101..=most);
        }
        assert!(proposed.chosen.score >= proposed.untouched.score - 0.0101);
        let days = proposed.plan.turning_days(60.0);
        assert_eq!(days.len(), proposed.chosen.timetable.count, "{want:?}");
        assert_eq!(proposed.turnings.len(), days.len() + 1);
        proposed.plan.check().unwrap();
    }
    // Sundberg 2005, Getahun 2012: turning drives ammonia off, so who wants nitrogen kept loses no more than untouched.
    let keep = found(Want::KeepNitrogen);
    assert!(keep.chosen.nitrogen_lost <= keep.untouched.nitrogen_lost + 0.05);
}

#[test]
fn a_search_tells_of_progress_and_can_be_called_off() {
    let heard = Mutex::new(Vec::new());
    let stop = AtomicBool::new(false);
    let facts = shared().unwrap();
    let found = search(&inputs(), &Search::default(), facts, &stop, |share| {
        heard.lock().unwrap().push(share);
        stop.store(share > 0.2, Ordering::Relaxed);
    });
    assert!(found.is_none());
    let heard = heard.into_inner().unwrap();
    assert!(heard.iter().all(|share| (0.0..=1.0).contains(share)) && heard.len() > 3);
    let unknown = Search {
        seeds: "no such seeds",
        ..Search::default()
    };
    assert!(search(&inputs(), &unknown, facts, &AtomicBool::new(false), |_| {}).is_none());
}
