//! What a run costs and how far off it is, in one table: cells x steps x ns, and the error against the kept settled curve,
//! of the coarse, the fine and the member's run in sixteen heaps; 200 members; then the closed cell beside a general
//! solver. `README.md` beside this file tells how to read it.
//!
//! `UPDATE_SETTLED=1` writes the settled curves anew instead (about ten minutes).

mod closed_cell;
#[path = "../support/heaps.rs"]
#[expect(dead_code, reason = "the tests use more of the canonical heaps")]
mod heaps;
#[path = "../support/settled_cases.rs"]
mod settled_cases;

use std::fmt::Write;
use std::time::Instant;

use heaps::{GOOD, mesh_cube, project_with};
use heapwright::forecast::{Inputs, ensemble};
use heapwright::heap::Resolution;
use settled_cases::{Settled, Use, all, apart_k, curve, days, kept, settling};

/// Cells each way of the settled runs, and of those they are compared with.
const SETTLED_CELLS: (usize, usize) = (48, 32);
/// Times a run is repeated; the quickest counts.
const REPEATS: usize = 5;
/// Tolerance, evaluations of the rates and largest error (K) of scipy's LSODA (1.17.1) on the same cell, as
/// `tests/reference/make_closed_cell.py --time` prints them.
const LSODA: [(f64, u32, f64); 4] = [
    (1e-2, 122, 0.2281),
    (1e-3, 156, 0.0278),
    (1e-4, 190, 0.0138),
    (1e-5, 249, 0.0014),
];

fn main() {
    if std::env::var_os("UPDATE_SETTLED").is_some() {
        return write_settled();
    }
    for (name, resolution) in [
        ("coarse", Resolution::coarse()),
        ("fine", Resolution::fine()),
        ("member", Resolution::member()),
    ] {
        frontier(name, &resolution);
    }
    members();
    one_cell();
}

fn frontier(name: &str, resolution: &Resolution) {
    println!(
        "{name}: {} x {} cells",
        resolution.cells.0, resolution.cells.1
    );
    println!("  case          cells  steps     ms   ns/cell/step   off K");
    let (mut worst, mut sum, mut longest) = ((0.0, ""), 0.0, 0.0f64);
    let cases = all();
    for case in &cases {
        let Some(row) = measured(case, resolution) else {
            println!("  {}: does not run", case.name);
            continue;
        };
        let aside = match case.used {
            Use::Tuned => "",
            Use::KeptAside => "  (kept aside)",
        };
        println!(
            "  {:12} {:6} {:6} {:6.2} {:14.0} {:7.2}{aside}",
            case.name,
            row.cells,
            row.steps,
            1e3 * row.seconds,
            1e9 * row.seconds / (row.cells * row.steps) as f64,
            row.off_k
        );
        sum += row.off_k;
        longest = longest.max(row.seconds);
        if row.off_k > worst.0 {
            worst = (row.off_k, case.name);
        }
    }
    println!(
        "  mean {:.2} K, worst {:.2} K ({}), longest {:.1} ms\n",
        sum / cases.len() as f64,
        worst.0,
        worst.1,
        1e3 * longest
    );
}

struct Row {
    cells: usize,
    steps: usize,
    seconds: f64,
    off_k: f64,
}

fn measured(case: &Settled, resolution: &Resolution) -> Option<Row> {
    let mut seconds = f64::INFINITY;
    for _ in 0..REPEATS {
        let begun = Instant::now();
        std::hint::black_box(project_with(&case.totals, &case.heap, resolution));
        seconds = seconds.min(begun.elapsed().as_secs_f64());
    }
    // Once more with a record after every step, so that the error is the run's and not that of its records.
    let often = Resolution {
        record_hours: 0.1,
        field_hours: Some(1e3),
        ..*resolution
    };
    let p = project_with(&case.totals, &case.heap, &often)?;
    Some(Row {
        cells: p.grids.first().map_or(0, |grid| grid.places.len()),
        steps: p.steps,
        seconds,
        off_k: apart_k(&curve(&p), &kept(case.name)),
    })
}

fn members() {
    let inputs = Inputs::of(&GOOD.totals(), &mesh_cube(1.0, 15.0));
    let never = std::sync::atomic::AtomicBool::new(false);
    let mut seconds = f64::INFINITY;
    for _ in 0..REPEATS {
        let begun = Instant::now();
        std::hint::black_box(ensemble(&inputs, 200, 1, &never, |_| {}));
        seconds = seconds.min(begun.elapsed().as_secs_f64());
    }
    println!(
        "200 members on {} threads: {seconds:.2} s\n",
        rayon::current_num_threads()
    );
}

fn one_cell() {
    println!("one closed cell, 30 days, against LSODA at rtol 1e-10:");
    let Some((steps, error)) = closed_cell::ours() else {
        return println!("  does not run");
    };
    println!("  heap simulator   {steps:5} steps  {error:.4} K");
    if let Some((tolerance, error, general)) = closed_cell::as_near_as(error) {
        let ratio = steps as f64 / f64::from(general);
        println!(
            "  Dormand-Prince   {general:5} steps  {error:.4} K (tolerance {tolerance:.0e}); ratio {ratio:.1}"
        );
    }
    for (tolerance, rates, error) in LSODA {
        println!(
            "  LSODA of scipy   {rates:5} evaluations  {error:.4} K (tolerance {tolerance:.0e})"
        );
    }
}

fn write_settled() {
    let cases = all();
    let curves: Vec<Vec<f64>> = cases
        .iter()
        .filter_map(|case| {
            let of = |cells| project_with(&case.totals, &case.heap, &settling(cells));
            let settled = curve(&of(SETTLED_CELLS.0)?);
            let apart = apart_k(&curve(&of(SETTLED_CELLS.1)?), &settled);
            println!("{}: {apart:.3} K from one size to the other", case.name);
            Some(settled)
        })
        .collect();
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/settled.csv");
    let comments = include_str!("../reference/settled.csv").lines();
    let mut text: String = comments
        .filter(|line| line.starts_with('#'))
        .flat_map(|line| [line, "\n"])
        .collect();
    text += "day";
    for case in &cases {
        text += ",";
        text += case.name;
    }
    text += "\n";
    for (i, day) in days().enumerate() {
        let _ = write!(text, "{day}");
        for curve in &curves {
            let _ = write!(text, ",{:.3}", curve.get(i).copied().unwrap_or(f64::NAN));
        }
        text += "\n";
    }
    if let Err(error) = std::fs::write(path, text) {
        println!("{path}: {error}");
    }
}
