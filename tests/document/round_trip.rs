//! What is saved is what is opened again, whatever it holds, and saving harms nothing.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use heapwright::diary::{Diary, Log, Reading, Smell, Spot, Squeeze, Wetness};
use heapwright::document::{FileError, NAME_LIMIT, NEWEST_FORMAT, Project, Season, file};
use heapwright::garden::{Aim, Bed, Need, TestResult, Use};
use heapwright::heap::{Base, Board, Climate, Cover, Event, Heap, Lid, Operation, Plan, Shape};
use heapwright::material::{Catalogue, Condition, Material};
use heapwright::mix::{Ingredient, Mix};
use heapwright::quantity::{Amount, Measure, OwnMeasure};
use proptest::prelude::*;

use crate::sample::{catalogue, folder, material, rich_project};

fn line() -> impl Strategy<Value = String> {
    proptest::collection::vec(
        any::<char>().prop_filter("one line", |letter| !letter.is_control()),
        0..30,
    )
    .prop_map(|letters| letters.into_iter().collect())
}

fn measure() -> impl Strategy<Value = Measure> {
    prop_oneof![
        proptest::sample::select(Measure::READY.to_vec()),
        (line(), 0.01..1e4).prop_map(|(name, litres)| Measure::Own {
            name: format!("m{name}"),
            litres
        }),
    ]
}

fn shape() -> impl Strategy<Value = Shape> {
    let size = || 0.3..8.0;
    prop_oneof![
        Just(Shape::OpenHeap),
        (size(), size(), size()).prop_map(|(width_m, length_m, height_m)| Shape::SlattedBin {
            width_m,
            length_m,
            height_m
        }),
        (size(), size(), size(), any::<bool>()).prop_map(|(width_m, length_m, height_m, open)| {
            Shape::SolidBin {
                width_m,
                length_m,
                height_m,
                lid: if open { Lid::Open } else { Lid::Closed },
                board: if open {
                    Board::Plastic
                } else {
                    Board::Insulated
                },
            }
        }),
        (size(), size()).prop_map(|(diameter_m, height_m)| Shape::WireCylinder {
            diameter_m,
            height_m
        }),
    ]
}

fn heap() -> impl Strategy<Value = Heap> {
    let climate = (
        line(),
        proptest::array::uniform12(-60.0..50.0),
        0.0..25.0,
        proptest::array::uniform12(0.0..2000.0),
        0.0..=1.0,
    )
        .prop_map(
            |(name, monthly_mean_c, daily_swing_k, monthly_rain_mm, relative_humidity)| Climate {
                name,
                monthly_mean_c,
                daily_swing_k,
                monthly_rain_mm,
                relative_humidity,
                wind_m_per_s: 2.0 * relative_humidity,
                latitude_deg: 90.0 * relative_humidity,
            },
        );
    (
        shape(),
        climate,
        1.0..366.0,
        proptest::option::of(-20.0..60.0),
        1.0..1500.0,
    )
        .prop_map(
            |(shape, climate, start_day_of_year, start_temperature_c, days)| Heap {
                shape,
                base: Base::Soil,
                cover: Cover::Compost {
                    thickness_m: climate.relative_humidity,
                },
                in_sun: days > 700.0,
                plan: Plan {
                    events: vec![Event {
                        repeat: None,
                        day: days,
                        operation: Operation::Water { wet_to: 0.5 },
                    }],
                },
                climate,
                start_day_of_year,
                start_temperature_c,
                days,
            },
        )
}

fn own_materials() -> impl Strategy<Value = Vec<Material>> {
    proptest::collection::vec((0.0..0.9, 0.1..0.6, 0.001..0.05, any::<String>()), 1..4).prop_map(
        |rows| {
            rows.into_iter()
                .enumerate()
                .map(|(index, (moisture, carbon, nitrogen, note))| {
                    let mut own = material(&format!("own_{index}"), moisture, carbon, nitrogen);
                    own.note = note;
                    own
                })
                .collect()
        },
    )
}

fn wishes() -> impl Strategy<Value = (Option<Aim>, Vec<OwnMeasure>)> {
    let aim = (1_u16..=366).prop_flat_map(|day_of_year| {
        prop_oneof![
            Just(Aim::Hot),
            Just(Aim::FinishedBy { day_of_year }),
            Just(Aim::LeastWork),
            Just(Aim::SeedsKilled),
            Just(Aim::Teach),
        ]
    });
    let named = line().prop_filter("a name", |name| !name.trim().is_empty());
    let measure = (named, 0.01..=1e4).prop_map(|(name, litres)| OwnMeasure { name, litres });
    (
        proptest::option::of(aim),
        proptest::collection::vec(measure, 0..3),
    )
}

fn garden() -> impl Strategy<Value = (Vec<Bed>, Vec<Use>, Vec<TestResult>)> {
    let bed = (line(), 0.01..=1e5, 0_usize..3).prop_map(|(name, area_m2, need)| Bed {
        name,
        area_m2,
        need: Need::ALL[need],
    });
    let test = (line(), 0.0..=5000.0, any::<usize>(), any::<String>()).prop_map(
        |(test, day, result, note)| TestResult {
            test,
            day,
            result,
            note,
        },
    );
    (
        proptest::collection::vec(bed, 0..4),
        proptest::sample::subsequence(Use::ALL.to_vec(), 0..=6),
        proptest::collection::vec(test, 0..3),
    )
}

fn spot() -> impl Strategy<Value = Spot> {
    (0.0..=1.0, 0.0..=1.0).prop_map(|(out, up)| Spot { out, up })
}

/// A reading, so many minutes after the heap was built.
fn reading() -> impl Strategy<Value = (i64, Reading)> {
    use proptest::option::of;
    let wetness = prop_oneof![
        (0_usize..5).prop_map(|class| Wetness::Squeezed(Squeeze::ALL[class])),
        (0.0..=1.0).prop_map(Wetness::Probe),
        (0.0..=1.0).prop_map(Wetness::Oven),
    ];
    let measured = (
        of(-40.0..=120.0),
        of(wetness),
        of(0.0..=0.21),
        of(0.01..=20.0),
    );
    let told = (of(0_usize..4), any::<String>(), line());
    (0_i64..5000 * 24 * 60, spot(), measured, told).prop_map(
        |(minutes, spot, (temperature_c, wetness, oxygen, height_m), (smell, note, photo))| {
            let blank = Reading::blank(jiff::civil::DateTime::default(), spot);
            let reading = Reading {
                temperature_c,
                wetness,
                oxygen,
                height_m,
                smell: smell.map(|which| Smell::ALL[which]),
                note,
                photo,
                ..blank
            };
            (minutes, reading)
        },
    )
}

fn log() -> impl Strategy<Value = Log> {
    let steps = proptest::collection::vec((1e-6..20.0, -40.0..=120.0), 0..40);
    (line(), spot(), steps).prop_map(|(name, spot, steps)| {
        let mut day = 0.0;
        let temperatures_c = steps
            .into_iter()
            .map(|(step, degrees)| {
                day += step;
                (day, degrees)
            })
            .collect();
        Log {
            name: format!("p{name}"),
            spot,
            temperatures_c,
        }
    })
}

fn diary() -> impl Strategy<Value = Diary> {
    let built = (1900_i16..=2200, 1_i8..=12, 1_i8..=28, 0_i8..24);
    let entries = (
        proptest::collection::vec(reading(), 0..6),
        proptest::collection::vec(log(), 0..3),
        proptest::collection::vec(0.0..=1500.0, 0..4),
    );
    let stands = (built, entries).prop_map(|((year, month, day, hour), (readings, logs, done))| {
        let built = jiff::civil::date(year, month, day).at(hour, 0, 0, 0);
        let dated = |(minutes, reading): (i64, Reading)| Reading {
            at: built
                .checked_add(jiff::Span::new().minutes(minutes))
                .unwrap(),
            ..reading
        };
        Diary {
            built: Some(built),
            readings: readings.into_iter().map(dated).collect(),
            logs,
            done,
        }
    });
    prop_oneof![Just(Diary::default()), stands]
}

/// Any project that passes its own check.
pub fn project() -> impl Strategy<Value = Project> {
    let stock = proptest::option::of(0.0..=1e5);
    let condition =
        (0.0..=3.0, -1.0..=1.0, 0.0..=1.0).prop_map(|(wilted_days, packed, chopped)| Condition {
            wilted_days,
            packed,
            chopped,
        });
    let row = (any::<bool>(), 0.0..=1e5, measure(), stock, condition);
    let rows = proptest::collection::vec(row, 0..8);
    // Control characters too: whatever was pasted into the notes must come back.
    let notes = proptest::collection::vec(any::<char>(), 0..60)
        .prop_map(|letters| letters.into_iter().collect::<String>());
    let texts = (line(), line(), notes);
    let land = (heap(), own_materials(), (garden(), wishes(), diary()));
    (texts, 0_usize..4, rows, 0.0..=1e6, land).prop_map(
        |(
            (title, place, notes),
            season,
            rows,
            added_water_l,
            (heap, own_materials, (garden, wishes, diary)),
        )| {
            Project {
                format: NEWEST_FORMAT,
                title,
                season: Season::ALL[season],
                place,
                notes,
                mix: Mix {
                    ingredients: rows
                        .into_iter()
                        .enumerate()
                        .map(
                            |(index, (locked, value, measure, stock, condition))| Ingredient {
                                material: own_materials[index % own_materials.len()].id.clone(),
                                amount: Amount::new(value, measure),
                                locked,
                                stock,
                                condition,
                            },
                        )
                        .collect(),
                    added_water_l,
                },
                heap,
                own_materials,
                aim: wishes.0,
                measures: wishes.1,
                beds: garden.0,
                uses: garden.1,
                field_tests: garden.2,
                diary,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_saved_is_what_is_opened(project in project()) {
        let folder = folder();
        let path = folder.path().join("any.heap.ron");
        let nothing = Catalogue::default();
        let stamp = file::write(&path, &project, None).unwrap();
        let opened = file::read(&path, &nothing).unwrap();
        prop_assert_eq!(&opened.project, &project);
        prop_assert_eq!(&opened.stamp, &stamp);
        // And the same bytes when it is saved again.
        let before = fs::read(&path).unwrap();
        file::write(&path, &opened.project, Some(&stamp)).unwrap();
        prop_assert_eq!(before, fs::read(&path).unwrap());
    }
}

#[test]
fn the_format_stands_in_the_first_field() {
    let folder = folder();
    let path = folder.path().join("first.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    let text = fs::read_to_string(&path).unwrap();
    let second = text.lines().nth(1).unwrap().trim();
    assert_eq!(second, "format: 4,");
    assert!(text.ends_with(")\n"));
}

#[test]
fn a_byte_order_mark_other_line_ends_and_comments_are_read() {
    let folder = folder();
    let path = folder.path().join("windows.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    let text = fs::read_to_string(&path).unwrap();
    let foreign = format!("\u{feff}// by hand\r\n{}", text.replace('\n', "\r\n"));
    fs::write(&path, foreign).unwrap();
    let opened = file::read(&path, catalogue()).unwrap();
    assert_eq!(opened.project, rich_project());
}

#[test]
fn a_file_changed_by_someone_else_is_not_written_over() {
    let folder = folder();
    let path = folder.path().join("shared.heap.ron");
    let ours = rich_project();
    let stamp = file::write(&path, &ours, None).unwrap();
    let mut theirs = ours.clone();
    theirs.title = "Theirs".to_owned();
    file::write(&path, &theirs, None).unwrap();

    let refused = file::write(&path, &ours, Some(&stamp)).unwrap_err();
    assert_eq!(refused, FileError::ChangedOnDisk { path: path.clone() });
    assert_eq!(file::read(&path, catalogue()).unwrap().project, theirs);
    // Asked and confirmed, it is.
    let stamp = file::write(&path, &ours, None).unwrap();
    assert_eq!(file::read(&path, catalogue()).unwrap().stamp, stamp);
    // One letter of the same length counts as a change too.
    let text = fs::read_to_string(&path)
        .unwrap()
        .replace("blue tub", "blue tab");
    fs::write(&path, text).unwrap();
    assert!(matches!(
        file::write(&path, &ours, Some(&stamp)),
        Err(FileError::ChangedOnDisk { .. })
    ));
    // A file that is gone is written anew: nothing of anyone's is lost.
    fs::remove_file(&path).unwrap();
    file::write(&path, &ours, Some(&stamp)).unwrap();
    assert_eq!(file::read(&path, catalogue()).unwrap().project, ours);
}

/// The names in a folder, sorted.
fn names(folder: &Path) -> Vec<PathBuf> {
    let mut names: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    names.sort();
    names
}

#[test]
fn a_disk_that_fills_up_leaves_the_old_file_and_nothing_else() {
    let folder = folder();
    let path = folder.path().join("kept.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    let before = fs::read(&path).unwrap();
    let mut larger = rich_project();
    larger.notes = "x".repeat(5000);
    let refused = file::write_by(&path, &larger, None, |sibling, content| {
        io::Write::write_all(sibling, &content[..content.len() / 2])?;
        Err(io::ErrorKind::StorageFull.into())
    })
    .unwrap_err();
    let sentence = refused.to_string();
    assert!(sentence.starts_with("the disk is full"), "{sentence}");
    assert!(sentence.ends_with("kept.heap.ron"), "{sentence}");
    assert_eq!(fs::read(&path).unwrap(), before);
    assert_eq!(names(folder.path()), [path]);
}

/// The device `/dev/full` refuses every byte with the system's own "no space left" (Linux, full(4)).
#[cfg(target_os = "linux")]
#[test]
fn the_systems_own_refusal_of_a_full_disk_is_understood() {
    let folder = folder();
    let path = folder.path().join("kept.heap.ron");
    let refused = file::write_by(&path, &rich_project(), None, |_, content| {
        let mut full = fs::File::options().write(true).open("/dev/full")?;
        io::Write::write_all(&mut full, content)
    })
    .unwrap_err();
    assert!(refused.to_string().starts_with("the disk is full"));
    assert!(!path.exists() && names(folder.path()).is_empty());
}

#[test]
fn a_read_only_file_and_a_missing_folder_are_told() {
    let folder = folder();
    let path = folder.path().join("locked.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    let before = fs::read(&path).unwrap();
    let mut permissions = fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).unwrap();
    let mut other = rich_project();
    other.title = "Other".to_owned();
    let refused = file::write(&path, &other, None).unwrap_err();
    assert_eq!(refused, FileError::ReadOnly { path: path.clone() });
    assert_eq!(fs::read(&path).unwrap(), before);

    let nowhere = folder.path().join("no such folder/x.heap.ron");
    let sentence = file::write(&nowhere, &other, None).unwrap_err().to_string();
    assert!(
        sentence.starts_with("the folder does not exist"),
        "{sentence}"
    );
}

#[cfg(unix)]
#[test]
fn a_folder_one_may_not_write_is_told() {
    use std::os::unix::fs::PermissionsExt;
    let folder = folder();
    let path = folder.path().join("withybed.heap.ron");
    // What the system says where nothing may be written, and where nothing can be.
    for (kind, words) in [
        (
            io::ErrorKind::PermissionDenied,
            "nothing may be written here",
        ),
        (
            io::ErrorKind::ReadOnlyFilesystem,
            "this disk can only be read",
        ),
    ] {
        let refused = file::write_by(&path, &rich_project(), None, |_, _| Err(kind.into()));
        let sentence = refused.unwrap_err().to_string();
        assert!(sentence.starts_with(words), "{sentence}");
        assert!(names(folder.path()).is_empty());
    }
    // A folder that may not be written; an administrator may write everywhere, and then the file is there.
    let closed = fs::Permissions::from_mode(0o555);
    fs::set_permissions(folder.path(), closed).unwrap();
    match file::write(&path, &rich_project(), None) {
        Ok(_) => assert!(path.is_file()),
        Err(refused) => {
            let sentence = refused.to_string();
            assert!(
                sentence.starts_with("nothing may be written here"),
                "{sentence}"
            );
            assert!(!path.exists());
        }
    }
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).unwrap();
}

#[cfg(unix)]
#[test]
fn links_are_followed_and_permissions_kept() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = folder();
    let real = folder.path().join("elsewhere");
    fs::create_dir(&real).unwrap();
    let target = real.join("real.heap.ron");
    file::write(&target, &rich_project(), None).unwrap();
    fs::set_permissions(&target, fs::Permissions::from_mode(0o640)).unwrap();
    let link = folder.path().join("link.heap.ron");
    symlink("elsewhere/real.heap.ron", &link).unwrap();

    let stamp = file::read(&link, catalogue()).unwrap().stamp;
    let mut changed = rich_project();
    changed.title = "Through the link".to_owned();
    file::write(&link, &changed, Some(&stamp)).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(file::read(&target, catalogue()).unwrap().project, changed);
    let mode = fs::metadata(&target).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o640);
    assert_eq!(names(&real), [target]);

    // A link to nothing makes the file it names; a ring of links is refused.
    let ahead = folder.path().join("ahead.heap.ron");
    symlink("elsewhere/ahead.heap.ron", &ahead).unwrap();
    file::write(&ahead, &changed, None).unwrap();
    assert!(real.join("ahead.heap.ron").is_file());
    let ring = folder.path().join("ring.heap.ron");
    symlink("ring.heap.ron", &ring).unwrap();
    assert!(matches!(
        file::write(&ring, &changed, None),
        Err(FileError::NotAFile { .. })
    ));
}

#[test]
fn what_could_not_be_opened_again_is_not_written() {
    let folder = folder();
    let path = folder.path().join("bad.heap.ron");
    let mut cases = Vec::new();
    let mut with = |change: &dyn Fn(&mut Project)| {
        let mut project = rich_project();
        change(&mut project);
        cases.push(project);
    };
    with(&|project| project.title = "t".repeat(NAME_LIMIT + 1));
    with(&|project| project.mix.ingredients[0].amount.value = f64::NAN);
    with(&|project| project.mix.added_water_l = f64::INFINITY);
    with(&|project| project.heap.days = 0.0);
    with(&|project| project.format = NEWEST_FORMAT + 1);
    with(&|project| project.own_materials[0].carbon.typical = f64::NAN);
    for project in cases {
        let refused = file::write(&path, &project, None).unwrap_err();
        assert!(matches!(refused, FileError::Problem { .. }), "{refused}");
        assert!(!path.exists());
    }
}

#[test]
fn the_extension_is_added_where_it_is_missing() {
    for (given, wanted) in [
        ("/a/autumn", "/a/autumn.heap.ron"),
        ("/a/autumn.heap.ron", "/a/autumn.heap.ron"),
        ("/a/Autumn.HEAP.RON", "/a/Autumn.HEAP.RON"),
        ("/a/autumn.ron", "/a/autumn.heap.ron"),
        ("/a/autumn.", "/a/autumn.heap.ron"),
        ("/a.b/v1.2", "/a.b/v1.2.heap.ron"),
        ("ümlaut 堆", "ümlaut 堆.heap.ron"),
        ("/a/.heap.ron", "/a/.heap.heap.ron"),
    ] {
        assert_eq!(file::with_extension(Path::new(given)), Path::new(wanted));
    }
}
