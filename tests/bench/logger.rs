//! A logger's file of 100,000 and of a million rows, read and understood.
//!
//! Run: `cargo bench --no-default-features --bench logger`.

use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use heapwright::diary::import::{Choices, Clock, import};
use jiff::civil::date;

/// Rows of three probes, every minute, days first and decimal commas.
fn rows(count: u64) -> String {
    let mut text = "Time;Core (°C);Edge (°C);Air (°C)\n".to_owned();
    let start = date(2024, 9, 1).at(0, 0, 0, 0);
    for row in 0..count {
        let at = start + Duration::from_secs(60 * row);
        let day = row as f64 / 1440.0;
        let wave = (day * std::f64::consts::TAU).sin();
        let cells = [
            55.0 - 0.02 * day + 0.2 * wave,
            40.0 + wave,
            12.0 + 6.0 * wave,
        ];
        let cells = cells.map(|value| format!("{value:.1}").replace('.', ","));
        let at = at.strftime("%d.%m.%Y %H:%M:%S");
        text.push_str(&format!("{at};{}\n", cells.join(";")));
    }
    text
}

fn bench(c: &mut Criterion) {
    let zone = Choices {
        clock: Clock::Zone("Europe/London".to_owned()),
        ..Choices::default()
    };
    for (count, samples) in [(100_000, 20), (1_000_000, 10)] {
        let text = rows(count);
        let mut group = c.benchmark_group("logger");
        group
            .sample_size(samples)
            .throughput(Throughput::Elements(count));
        group.bench_function(format!("{count} rows"), |b| {
            b.iter(|| import(black_box(text.as_bytes()), &Choices::default()));
        });
        group.bench_function(format!("{count} rows in a zone"), |b| {
            b.iter(|| import(black_box(text.as_bytes()), &zone));
        });
    }
}

criterion_group!(benches, bench);
criterion_main!(benches);
