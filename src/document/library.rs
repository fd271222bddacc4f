//! Kept recipes and own materials: what lies in the person's recipe folder.
//!
//! In: the folder. Out: title, season, place and path of every recipe, and a problem for each file
//! that is none.
//!
//! Only the first words of each file are taken; whether the rest can be is found out on opening.
//! Not here: opening and saving (`file`).
//!
//! Tested by: `tests/document/library.rs`.

use std::ffi::OsStr;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::check::{check_own, line};
use super::error::{Doing, FileError};
use super::{EXTENSION, Folders, Project, Season, file, parse, reading, writing};
use crate::material::Material;

/// Longest file name suggested for a title, characters without the extension.
const NAME_LENGTH: usize = 60;

/// What the list says of one recipe.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recipe {
    /// Its title.
    pub title: String,
    /// Time of year it is filed under.
    pub season: Season,
    /// Where the heap stands.
    pub place: String,
    /// Its file.
    pub path: PathBuf,
}

/// Everything in the recipe folder.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Library {
    /// Recipes by season, within it by title.
    pub recipes: Vec<Recipe>,
    /// Files that could not be listed, each with the reason.
    pub problems: Vec<FileError>,
}

impl Library {
    /// The recipes of one season, by title.
    pub fn of(&self, season: Season) -> impl Iterator<Item = &Recipe> {
        self.recipes
            .iter()
            .filter(move |recipe| recipe.season == season)
    }
}

/// The part of a project that the list needs.
#[derive(Deserialize)]
struct Card {
    title: String,
    season: Season,
    place: String,
}

/// Lists the recipe folder. A folder that does not exist yet holds nothing.
pub fn list(folders: &Folders) -> Library {
    let mut library = Library::default();
    for path in files_ending(&folders.recipes, EXTENSION, &mut library.problems) {
        match card(&path) {
            Ok(Card {
                title,
                season,
                place,
            }) => library.recipes.push(Recipe {
                title,
                season,
                place,
                path,
            }),
            Err(problem) => library.problems.push(problem),
        }
    }
    library
        .recipes
        .sort_by_cached_key(|recipe| (recipe.season, recipe.title.to_lowercase()));
    library
}

/// A path in the recipe folder that is free and named after the project's title.
pub fn suggested_path(folders: &Folders, project: &Project) -> PathBuf {
    let name = plain_name(&project.title);
    let numbered = (2..).map(|number| format!("{name}-{number}"));
    let free = std::iter::once(name.clone())
        .chain(numbered)
        .map(|name| folders.recipes.join(format!("{name}{EXTENSION}")))
        .find(|path| fs::symlink_metadata(path).is_err());
    free.unwrap_or_else(|| folders.recipes.join(format!("{name}{EXTENSION}")))
}

/// A title as a file name any system takes: letters and digits, small, joined by hyphens.
fn plain_name(title: &str) -> String {
    let mut name = String::new();
    for letter in title.to_lowercase().chars().take(NAME_LENGTH) {
        if letter.is_alphanumeric() {
            name.push(letter);
        } else if !name.ends_with('-') {
            name.push('-');
        }
    }
    let name = name.trim_matches('-');
    if name.is_empty() {
        "heap".to_owned()
    } else {
        name.to_owned()
    }
}

/// The files of a folder whose names end so, by path.
fn files_ending(folder: &Path, ending: &str, problems: &mut Vec<FileError>) -> Vec<PathBuf> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(err) if err.kind() == io::ErrorKind::NotFound => return Vec::new(),
        Err(err) => {
            problems.push(FileError::system(Doing::Reading, &err, folder));
            return Vec::new();
        }
    };
    let mut paths = Vec::new();
    for entry in entries {
        match entry {
            Ok(entry) if ends_with(&entry.file_name(), ending) => paths.push(entry.path()),
            Ok(_) => {}
            Err(err) => problems.push(FileError::system(Doing::Reading, &err, folder)),
        }
    }
    paths.sort();
    paths
}

/// Whether a file name ends so and is not that of a hidden file.
fn ends_with(name: &OsStr, ending: &str) -> bool {
    let name = name.to_string_lossy().to_lowercase();
    name.ends_with(ending) && !name.starts_with('.')
}

/// The first words of one file.
fn card(path: &Path) -> Result<Card, FileError> {
    let content = reading::content_of(path)?;
    let text = reading::text_of(&content, path)?;
    parse::check_format(text, path)?;
    let card: Card = parse::value(text, path)?;
    line("the title", &card.title)
        .and_then(|()| line("the place", &card.place))
        .map_err(|problem| FileError::Problem {
            problem,
            path: path.to_owned(),
        })?;
    Ok(card)
}

/// How the name of a kept material's file ends.
pub const MATERIAL_EXTENSION: &str = ".material.ron";
/// Format of kept materials.
const MATERIAL_FORMAT: u32 = 1;

/// One material in one file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct KeptMaterial {
    format: u32,
    material: Material,
}

/// A person's own materials, as kept for every recipe.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct KeptMaterials {
    /// By name.
    pub materials: Vec<Material>,
    /// Files that could not be read, each with the reason.
    pub problems: Vec<FileError>,
}

/// Lists the kept materials. A folder that does not exist yet holds nothing.
pub fn materials(folders: &Folders) -> KeptMaterials {
    let mut kept = KeptMaterials::default();
    let folder = folders.materials();
    for path in files_ending(&folder, MATERIAL_EXTENSION, &mut kept.problems) {
        match material(&path) {
            Ok(material) => kept.materials.push(material),
            Err(problem) => kept.problems.push(problem),
        }
    }
    kept.materials
        .sort_by_cached_key(|material| (material.name.to_lowercase(), material.id.clone()));
    kept
}

/// Keeps a material for every recipe, whole or not at all, in the place of one of the same id.
///
/// # Errors
/// [`FileError`]: the material cannot be, or the system refused; what was kept before is still there.
pub fn keep_material(folders: &Folders, material: &Material) -> Result<PathBuf, FileError> {
    let folder = folders.materials();
    let path = folder.join(format!("{}{MATERIAL_EXTENSION}", plain_name(&material.id)));
    let problem = |problem| FileError::Problem {
        problem,
        path: path.clone(),
    };
    check_own(std::slice::from_ref(material)).map_err(problem)?;
    let kept = KeptMaterial {
        format: MATERIAL_FORMAT,
        material: material.clone(),
    };
    fs::create_dir_all(&folder).map_err(|err| FileError::system(Doing::Writing, &err, &folder))?;
    writing::replace(&path, file::to_text(&kept, &path)?.as_bytes())?;
    Ok(path)
}

/// One kept material, checked.
fn material(path: &Path) -> Result<Material, FileError> {
    let content = reading::content_of(path)?;
    let text = reading::text_of(&content, path)?;
    let kept: KeptMaterial = parse::value(text, path)?;
    if kept.format != MATERIAL_FORMAT {
        let found = u64::from(kept.format);
        let path = path.to_owned();
        return Err(FileError::Newer { found, path });
    }
    check_own(std::slice::from_ref(&kept.material)).map_err(|problem| FileError::Problem {
        problem,
        path: path.to_owned(),
    })?;
    Ok(kept.material)
}
