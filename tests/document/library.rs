//! The recipe folder is listed whatever lies in it; settings and recent files keep their limits.

use std::fs;
use std::path::{Path, PathBuf};

use heapwright::document::library::{
    KeptMaterials, keep_material, list, list_again, materials, suggested_path,
};
use heapwright::document::{Folders, Layout, Season, Settings, ThemeChoice, examples, file};
use heapwright::quantity::UnitSystem;
use heapwright::text::error::settings_unread;

use crate::sample::{folder, material, rich_project};

fn keep(folders: &Folders, name: &str, title: &str, season: Season) -> PathBuf {
    fs::create_dir_all(&folders.recipes).unwrap();
    let mut project = rich_project();
    project.title = title.to_owned();
    project.season = season;
    let path = folders.recipes.join(name);
    file::write(&path, &project, None).unwrap();
    path
}

#[test]
fn recipes_stand_by_season_and_title() {
    let root = folder();
    let folders = Folders::under(root.path());
    assert_eq!(list(&folders).recipes, []);
    keep(&folders, "1.heap.ron", "wet leaves", Season::Autumn);
    let bin = keep(&folders, "2.heap.ron", "Kitchen bin", Season::Winter);
    keep(&folders, "3.HEAP.RON", "Bracken", Season::Autumn);
    keep(&folders, "4.heap.ron", "Grass glut", Season::Spring);
    let library = list(&folders);
    assert!(library.problems.is_empty());
    let titles: Vec<&str> = library.recipes.iter().map(|r| r.title.as_str()).collect();
    assert_eq!(
        titles,
        ["Grass glut", "Bracken", "wet leaves", "Kitchen bin"]
    );
    let autumn: Vec<&str> = library
        .of(Season::Autumn)
        .map(|r| r.title.as_str())
        .collect();
    assert_eq!(autumn, ["Bracken", "wet leaves"]);
    assert_eq!(library.of(Season::Summer).count(), 0);
    let winter = library.of(Season::Winter).next().unwrap();
    assert_eq!(winter.path, bin);
    assert_eq!(winter.place, "Withybed School Garden, by the kitchen door");
}

#[test]
fn a_listed_recipe_says_what_it_can_be_found_by_and_which_state_of_its_file_it_is() {
    let root = folder();
    let folders = Folders::under(root.path());
    let path = keep(&folders, "1.heap.ron", "Bracken", Season::Autumn);
    let project = rich_project();
    let first = list(&folders).recipes.remove(0);
    assert_eq!(first.notes, project.notes);
    let own = |id: &str| {
        let own = project.own_materials.iter().find(|own| own.id == id);
        own.map_or(id.to_owned(), |own| own.name.clone())
    };
    let ingredients = project.mix.ingredients.iter();
    let materials: Vec<String> = ingredients.map(|it| own(&it.material)).collect();
    assert_eq!(first.materials, materials);
    assert_eq!(first.start_day_of_year, project.heap.start_day_of_year);
    assert_eq!(first.latitude_deg, project.heap.climate.latitude_deg);
    // Listed again it is the same; written anew it is another state.
    assert_eq!(list(&folders).recipes[0].state, first.state);
    let mut longer = project;
    longer.notes.push_str(" And one more.");
    file::write(&path, &longer, None).unwrap();
    assert_ne!(list(&folders).recipes[0].state, first.state);
}

#[test]
fn listed_again_it_is_as_if_listed_for_the_first_time() {
    let root = folder();
    let folders = Folders::under(root.path());
    keep(&folders, "1.heap.ron", "Bracken", Season::Autumn);
    let gone = keep(&folders, "2.heap.ron", "Fern", Season::Spring);
    let before = list(&folders);
    assert_eq!(list_again(&folders, &before), before);
    fs::remove_file(gone).unwrap();
    keep(&folders, "1.heap.ron", "Another title", Season::Winter);
    keep(&folders, "3.heap.ron", "Moss", Season::Summer);
    fs::write(folders.recipes.join("4.heap.ron"), "(for").unwrap();
    let after = list_again(&folders, &before);
    assert_eq!(after, list(&folders));
    let titles: Vec<&str> = after.recipes.iter().map(|it| it.title.as_str()).collect();
    assert_eq!(titles, ["Moss", "Another title"]);
    // What could not be read is tried each time.
    assert_eq!(after.problems.len(), 1);
}

#[test]
fn the_examples_come_with_the_program_and_are_whole() {
    let all = examples().unwrap();
    assert_eq!(all.len(), 5);
    let catalogue = heapwright::material::Catalogue::built_in().unwrap();
    for example in &all {
        example.check(&catalogue).unwrap();
        assert!(example.place.starts_with("Withybed School Garden"));
    }
    for season in Season::ALL {
        assert!(all.iter().any(|example| example.season == season));
    }
}

#[test]
fn one_bad_file_is_a_problem_and_hides_none_of_the_others() {
    let root = folder();
    let folders = Folders::under(root.path());
    let good = keep(&folders, "good.heap.ron", "Good", Season::Spring);
    let text = fs::read_to_string(good).unwrap();
    let put = |name: &str, content: &[u8]| fs::write(folders.recipes.join(name), content).unwrap();
    put("cut.heap.ron", &text.as_bytes()[..text.len() / 3]);
    put("binary.heap.ron", &[0xff, 0x00, 0x12]);
    put("empty.heap.ron", b"");
    put("newer.heap.ron", b"(format: 9, name: \"?\")");
    put(
        "long.heap.ron",
        text.replacen("Good", &"g".repeat(999), 1).as_bytes(),
    );
    fs::create_dir(folders.recipes.join("folder.heap.ron")).unwrap();
    // Not recipes, and so not problems: other files, and siblings of a save under way.
    put("readme.txt", b"hello");
    put(".heapwright-x1.tmp", b"(for");
    put(".hidden.heap.ron", b"(for");
    let library = list(&folders);
    assert_eq!(library.recipes.len(), 1);
    assert_eq!(library.recipes[0].title, "Good");
    assert_eq!(library.problems.len(), 6, "{:?}", library.problems);
    for name in ["cut", "binary", "empty", "newer", "long", "folder"] {
        let ending = format!("{name}.heap.ron");
        assert!(
            library
                .problems
                .iter()
                .any(|problem| problem.to_string().ends_with(&ending)),
            "{name} is not told"
        );
    }
}

#[test]
fn a_suggested_name_is_plain_free_and_inside_the_folder() {
    let root = folder();
    let folders = Folders::under(root.path());
    let mut project = rich_project();
    for (title, name) in [
        ("Autumn leaves, 2nd try!", "autumn-leaves-2nd-try.heap.ron"),
        ("../../etc/passwd", "etc-passwd.heap.ron"),
        ("  ", "heap.heap.ron"),
        ("堆肥 Ü", "堆肥-ü.heap.ron"),
    ] {
        project.title = title.to_owned();
        assert_eq!(
            suggested_path(&folders, &project),
            folders.recipes.join(name)
        );
    }
    project.title = "Twice".to_owned();
    let first = suggested_path(&folders, &project);
    fs::create_dir_all(&folders.recipes).unwrap();
    file::write(&first, &project, None).unwrap();
    let second = suggested_path(&folders, &project);
    assert_eq!(second, folders.recipes.join("twice-2.heap.ron"));
}

#[test]
fn settings_come_back_and_missing_ones_are_no_matter() {
    let root = folder();
    let folders = Folders::under(root.path());
    let first = Settings::load(&folders);
    assert_eq!((first.settings, first.problem), (Settings::default(), None));
    let mut settings = Settings {
        less_motion: true,
        units: UnitSystem::UsCustomary,
        theme: ThemeChoice::Dark,
        layout: Layout {
            size: Some((1000.0, 700.0)),
            maximised: true,
            zoom: Some(1.25),
            view: "Heap".to_owned(),
        },
        recent: Vec::new(),
        year: Some("/garden/my.year.ron".into()),
    };
    settings.remember(Path::new("/garden/a b \"ü\".heap.ron"));
    settings.save(&folders).unwrap();
    let again = Settings::load(&folders);
    assert_eq!((again.settings, again.problem), (settings, None));
}

#[test]
fn a_layout_that_no_window_can_have_is_as_it_comes() {
    for (size, zoom) in [
        (None, None),
        (Some((0.0, 700.0)), Some(f32::NAN)),
        (Some((f32::NAN, 700.0)), Some(f32::INFINITY)),
        (Some((1e9, 700.0)), None),
    ] {
        let layout = Layout {
            size,
            zoom,
            ..Layout::default()
        };
        assert_eq!((layout.size(), layout.zoom()), (None, 1.0));
    }
    let zoom = Some(1e9);
    let far = Layout {
        zoom,
        ..Layout::default()
    };
    assert_eq!(far.zoom(), 5.0);
}

#[test]
fn damaged_settings_give_the_usual_ones_with_a_notice() {
    let root = folder();
    let folders = Folders::under(root.path());
    Settings::default().save(&folders).unwrap();
    let path = folders.config.join("settings.ron");
    for content in [
        b"(units: Cubits)".as_slice(),
        b"(theme: ",
        &[0xff, 0xfe],
        b"",
    ] {
        fs::write(&path, content).unwrap();
        let loaded = Settings::load(&folders);
        assert_eq!(loaded.settings, Settings::default());
        let notice = settings_unread(&loaded.problem.unwrap());
        assert!(notice.contains("defaults") && notice.contains("settings.ron"));
    }
    // What a later program adds is passed over; what an earlier one lacks is as usual.
    fs::write(&path, "(theme: Light, voice: Loud)").unwrap();
    let loaded = Settings::load(&folders);
    assert_eq!(loaded.problem, None);
    assert_eq!(loaded.settings.theme, ThemeChoice::Light);
    assert_eq!(loaded.settings.units, UnitSystem::Metric);
}

#[test]
fn ten_recent_files_each_once_the_latest_first() {
    let mut settings = Settings::default();
    for number in 0..12 {
        settings.remember(Path::new(&format!("/{number}.heap.ron")));
    }
    settings.remember(Path::new("/5.heap.ron"));
    assert_eq!(settings.recent.len(), 10);
    assert_eq!(settings.recent[0], Path::new("/5.heap.ron"));
    assert_eq!(settings.recent[1], Path::new("/11.heap.ron"));
    let of_five = settings
        .recent
        .iter()
        .filter(|path| path.ends_with("5.heap.ron"));
    assert_eq!(of_five.count(), 1);
    settings.forget(Path::new("/5.heap.ron"));
    assert_eq!(settings.recent[0], Path::new("/11.heap.ron"));
}

#[test]
fn a_recent_path_that_depends_on_where_the_program_starts_is_not_taken_up() {
    let mut settings = Settings::default();
    settings.remember(Path::new("heap.heap.ron"));
    assert!(settings.recent.is_empty());
}

#[test]
fn settings_of_two_windows_are_merged() {
    let root = folder();
    let folders = Folders::under(root.path());
    let mut start = Settings::default();
    for name in ["/c.heap.ron", "/b.heap.ron", "/a.heap.ron"] {
        start.remember(Path::new(name));
    }
    start.save(&folders).unwrap();
    // One window opens a new file and an old one, and forgets a third; the other changes units and opens a file.
    let (mut one, mut two) = (start.clone(), start.clone());
    two.units = UnitSystem::UsCustomary;
    two.remember(Path::new("/two.heap.ron"));
    two.save_changes(&start, &folders).unwrap();
    one.theme = ThemeChoice::Dark;
    one.remember(Path::new("/one.heap.ron"));
    one.remember(Path::new("/c.heap.ron"));
    one.forget(Path::new("/b.heap.ron"));
    let stands = one.save_changes(&start, &folders).unwrap();
    let loaded = Settings::load(&folders);
    assert_eq!((&loaded.settings, loaded.problem), (&stands, None));
    assert_eq!(stands.units, UnitSystem::UsCustomary);
    assert_eq!(stands.theme, ThemeChoice::Dark);
    let names: Vec<_> = stands
        .recent
        .iter()
        .map(|path| path.to_str().unwrap())
        .collect();
    assert_eq!(names[0], "/c.heap.ron", "{names:?}");
    for there in ["/one.heap.ron", "/two.heap.ron", "/a.heap.ron"] {
        assert!(names.contains(&there), "{names:?} lacks {there}");
    }
    assert!(!names.contains(&"/b.heap.ron"), "{names:?}");
}

#[test]
fn many_windows_that_write_at_once_lose_nothing() {
    let root = folder();
    let folders = Folders::under(root.path());
    Settings::default().save(&folders).unwrap();
    std::thread::scope(|scope| {
        for number in 0..8 {
            let folders = &folders;
            scope.spawn(move || {
                let mut own = Settings::default();
                own.remember(Path::new(&format!("/{number}.heap.ron")));
                own.save_changes(&Settings::default(), folders).unwrap();
            });
        }
    });
    assert_eq!(Settings::load(&folders).settings.recent.len(), 8);
}

#[cfg(unix)]
#[test]
fn a_recent_path_that_is_no_text_does_not_stop_the_settings_from_being_kept() {
    use std::os::unix::ffi::OsStrExt;
    let root = folder();
    let folders = Folders::under(root.path());
    let mut settings = Settings::default();
    settings.remember(Path::new("/plain.heap.ron"));
    settings.remember(Path::new(std::ffi::OsStr::from_bytes(b"/\xff.heap.ron")));
    settings.save(&folders).unwrap();
    let again = Settings::load(&folders);
    assert_eq!(again.settings.recent, [Path::new("/plain.heap.ron")]);
}

#[test]
fn own_materials_are_kept_one_to_a_file_and_found_again() {
    let root = folder();
    let folders = Folders::under(root.path());
    assert_eq!(materials(&folders), KeptMaterials::default());
    let reeds = material("own_reeds", 0.2, 0.46, 0.008);
    let path = keep_material(&folders, &reeds).unwrap();
    keep_material(&folders, &material("own_bracken", 0.3, 0.45, 0.01)).unwrap();
    // Kept again, it takes the place of what was there, and no scrap is left beside it.
    let mut wetter = reeds.clone();
    wetter.moisture.high = 0.4;
    assert_eq!(keep_material(&folders, &wetter).unwrap(), path);
    assert_eq!(fs::read_dir(folders.materials()).unwrap().count(), 2);
    let kept = materials(&folders);
    assert!(kept.problems.is_empty());
    let ids: Vec<&str> = kept.materials.iter().map(|m| m.id.as_str()).collect();
    assert_eq!(ids, ["own_bracken", "own_reeds"]);
    assert_eq!(kept.materials[1], wetter);
    // One that cannot be is refused, and what is there stays.
    let mut wrong = reeds;
    wrong.moisture.high = 2.0;
    assert!(keep_material(&folders, &wrong).is_err());
    // A damaged file is a problem and hides none of the others; recipes are not materials.
    fs::write(
        folders.materials().join("cut.material.ron"),
        "(format: 1, mat",
    )
    .unwrap();
    let newer = fs::read_to_string(&path)
        .unwrap()
        .replace("format: 1", "format: 9");
    fs::write(folders.materials().join("newer.material.ron"), newer).unwrap();
    keep(&folders, "good.heap.ron", "Good", Season::Spring);
    let kept = materials(&folders);
    assert_eq!((kept.materials.len(), kept.problems.len()), (2, 2));
    assert_eq!(list(&folders).recipes.len(), 1);
    assert!(list(&folders).problems.is_empty());
}
