//! Kept recipes and own materials: what lies in the person's recipe folder.
//!
//! In: the folder. Out: of every recipe title, season, place, notes, materials and which file it is, and a problem for
//! each file that is none.
//!
//! Only a few words of each file are taken; whether the rest can be is found out on opening.
//! Not here: opening and saving (`file`), copying, renaming, putting away (`keeping`).
//!
//! Tested by: `tests/document/library.rs`.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use serde::{Deserialize, Serialize};

use super::check::{check_own, line};
use super::error::{Doing, FileError};
use super::{EXTENSION, Folders, Project, Season, file, parse, reading, writing};
use crate::material::Material;

/// Longest file name suggested for a title, characters without the extension.
const NAME_LENGTH: usize = 60;

/// Which state of a file: the same as long as nobody writes to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileState {
    bytes: u64,
    modified: Option<SystemTime>,
}

impl FileState {
    /// The present state of a file; of one that is gone the state of nothing.
    pub fn of(path: &Path) -> Self {
        let metadata = fs::metadata(path).ok();
        Self {
            bytes: metadata.as_ref().map_or(0, fs::Metadata::len),
            modified: metadata.and_then(|it| it.modified().ok()),
        }
    }
}

/// What the list says of one recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Its title.
    pub title: String,
    /// Time of year it is filed under.
    pub season: Season,
    /// Where the heap stands.
    pub place: String,
    /// Anything kept with it.
    pub notes: String,
    /// What goes in: ids of the catalogue, names of own materials.
    pub materials: Vec<String>,
    /// Day of the year on which the heap is built, 1 January = 1.
    pub start_day_of_year: f64,
    /// Latitude of its weather, degrees, negative on the southern half.
    pub latitude_deg: f64,
    /// Its file.
    pub path: PathBuf,
    /// Which state of that file this was read from.
    pub state: FileState,
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
    #[serde(default)]
    notes: String,
    mix: CardMix,
    heap: CardHeap,
    #[serde(default)]
    own_materials: Vec<CardMaterial>,
}

#[derive(Deserialize)]
struct CardMix {
    ingredients: Vec<CardIngredient>,
}

#[derive(Deserialize)]
struct CardIngredient {
    material: String,
}

#[derive(Deserialize)]
struct CardHeap {
    start_day_of_year: f64,
    climate: CardClimate,
}

#[derive(Deserialize)]
struct CardClimate {
    latitude_deg: f64,
}

#[derive(Deserialize)]
struct CardMaterial {
    id: String,
    name: String,
}

impl Card {
    /// The recipe whose file this was read from.
    fn into_recipe(self, path: PathBuf, state: FileState) -> Recipe {
        let name = |id: String| {
            let own = self.own_materials.iter().find(|own| own.id == id);
            own.map_or(id, |own| own.name.clone())
        };
        let ingredients = self.mix.ingredients.into_iter();
        Recipe {
            title: self.title,
            season: self.season,
            place: self.place,
            notes: self.notes,
            materials: ingredients.map(|it| name(it.material)).collect(),
            start_day_of_year: self.heap.start_day_of_year,
            latitude_deg: self.heap.climate.latitude_deg,
            path,
            state,
        }
    }
}

/// Lists the recipe folder. A folder that does not exist yet holds nothing.
pub fn list(folders: &Folders) -> Library {
    list_in(&folders.recipes, &Library::default())
}

/// The same once it was listed before: only files in another state are read again.
pub fn list_again(folders: &Folders, before: &Library) -> Library {
    list_in(&folders.recipes, before)
}

/// Lists the recipes that were put away.
pub fn bin(folders: &Folders) -> Library {
    list_in(&folders.bin(), &Library::default())
}

fn list_in(folder: &Path, before: &Library) -> Library {
    let known: BTreeMap<&Path, &Recipe> = before
        .recipes
        .iter()
        .map(|recipe| (recipe.path.as_path(), recipe))
        .collect();
    let mut library = Library::default();
    for path in files_ending(folder, EXTENSION, &mut library.problems) {
        // Before the reading: what is written meanwhile is another state.
        let state = FileState::of(&path);
        if let Some(same) = known.get(path.as_path()).filter(|it| it.state == state) {
            library.recipes.push((*same).clone());
            continue;
        }
        match card(&path) {
            Ok(card) => library.recipes.push(card.into_recipe(path, state)),
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
    free_path(&folders.recipes, &plain_name(&project.title))
}

/// A path in a folder that is free and of this name, with a number behind it where it must be.
pub(super) fn free_path(folder: &Path, name: &str) -> PathBuf {
    let path = |name: &str| folder.join(format!("{name}{EXTENSION}"));
    let numbered = (2..).map(|number| path(&format!("{name}-{number}")));
    let free = std::iter::once(path(name))
        .chain(numbered)
        .find(|path| fs::symlink_metadata(path).is_err());
    free.unwrap_or_else(|| path(name))
}

/// A title as a file name any system takes: letters and digits, small, joined by hyphens.
pub(super) fn plain_name(title: &str) -> String {
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
