//! Kept recipes are copied, renamed, put into the bin and brought back, and nothing is lost on the way.

use std::fs;
use std::path::PathBuf;

use heapwright::document::keeping::{bring_back, duplicate, put_away, rename};
use heapwright::document::library::{bin, list};
use heapwright::document::{FileError, Folders, Project, file};
use heapwright::material::Catalogue;

use crate::sample::{folder, rich_project};

fn keep(folders: &Folders, name: &str, title: &str) -> (PathBuf, Project) {
    fs::create_dir_all(&folders.recipes).unwrap();
    let mut project = rich_project();
    project.title = title.to_owned();
    let path = folders.recipes.join(name);
    file::write(&path, &project, None).unwrap();
    (path, project)
}

fn read(path: &std::path::Path) -> Project {
    file::read(path, &Catalogue::built_in().unwrap())
        .unwrap()
        .project
}

fn titles(folders: &Folders) -> Vec<String> {
    let all = list(folders).recipes.into_iter();
    all.map(|recipe| recipe.title).collect()
}

#[test]
fn a_copy_is_the_same_under_another_title() {
    let root = folder();
    let folders = Folders::under(root.path());
    let built_in = Catalogue::built_in().unwrap();
    let (path, kept) = keep(&folders, "bracken.heap.ron", "Bracken");
    let copy = duplicate(&folders, &path, "Bracken, copy", &built_in).unwrap();
    assert_eq!(copy, folders.recipes.join("bracken-copy.heap.ron"));
    let twice = duplicate(&folders, &path, "Bracken, copy", &built_in).unwrap();
    assert_eq!(twice, folders.recipes.join("bracken-copy-2.heap.ron"));
    assert_eq!(read(&path), kept);
    let mut expected = kept;
    expected.title = "Bracken, copy".to_owned();
    assert_eq!(read(&copy), expected);
}

#[test]
fn renaming_changes_title_and_file_and_nothing_else() {
    let root = folder();
    let folders = Folders::under(root.path());
    let built_in = Catalogue::built_in().unwrap();
    let (path, mut kept) = keep(&folders, "bracken.heap.ron", "Bracken");
    let (other, _) = keep(&folders, "fern.heap.ron", "Fern");
    let renamed = rename(&path, "Fern", &built_in).unwrap();
    // The name is taken: the other stays what it was.
    assert_eq!(renamed.path, folders.recipes.join("fern-2.heap.ron"));
    assert!(!path.exists());
    assert_eq!(read(&other).title, "Fern");
    kept.title = "Fern".to_owned();
    assert_eq!(read(&renamed.path), kept);
    assert_eq!(renamed.project, kept);
    // A name that already goes with the title stays, its number as well.
    let again = rename(&renamed.path, "Fern!", &built_in).unwrap();
    assert_eq!(again.path, renamed.path);
    assert_eq!(read(&again.path).title, "Fern!");
    // A title that cannot be is refused, and all is as before.
    let too_long = "f".repeat(999);
    assert!(rename(&again.path, &too_long, &built_in).is_err());
    assert_eq!(read(&again.path).title, "Fern!");
    assert_eq!(titles(&folders), ["Fern", "Fern!"]);
}

#[test]
fn what_is_put_away_comes_back_as_it_was() {
    let root = folder();
    let folders = Folders::under(root.path());
    let (path, kept) = keep(&folders, "bracken.heap.ron", "Bracken");
    let bytes = fs::read(&path).unwrap();
    let away = put_away(&folders, &path).unwrap();
    assert!(away.starts_with(folders.bin()) && !path.exists());
    assert!(titles(&folders).is_empty());
    let lies = bin(&folders);
    assert_eq!((lies.recipes.len(), lies.problems.len()), (1, 0));
    assert_eq!(lies.recipes[0].title, "Bracken");
    // Another takes its name meanwhile: both are kept.
    let (_, newer) = keep(&folders, "bracken.heap.ron", "Bracken");
    let second = put_away(&folders, &path).unwrap();
    assert_ne!(second, away);
    keep(&folders, "bracken.heap.ron", "Third");
    let back = bring_back(&folders, &away).unwrap();
    assert_eq!(back, folders.recipes.join("bracken-2.heap.ron"));
    assert_eq!(fs::read(&back).unwrap(), bytes);
    assert_eq!(read(&back), kept);
    let second_back = bring_back(&folders, &second).unwrap();
    assert_eq!(read(&second_back), newer);
    assert!(bin(&folders).recipes.is_empty());
    assert_eq!(titles(&folders), ["Bracken", "Bracken", "Third"]);
}

#[test]
fn what_is_not_there_is_told_and_nothing_else_moves() {
    let root = folder();
    let folders = Folders::under(root.path());
    let (path, _) = keep(&folders, "bracken.heap.ron", "Bracken");
    let gone = folders.recipes.join("gone.heap.ron");
    for refused in [
        put_away(&folders, &gone).unwrap_err(),
        bring_back(&folders, &gone).unwrap_err(),
        duplicate(&folders, &gone, "x", &Catalogue::built_in().unwrap()).unwrap_err(),
    ] {
        assert!(matches!(refused, FileError::Missing { .. }), "{refused}");
    }
    assert!(path.exists());
    assert_eq!(titles(&folders), ["Bracken"]);
}
