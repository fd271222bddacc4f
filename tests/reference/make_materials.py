#!/usr/bin/env python3
"""Makes assets/materials.ron and assets/sources.ron from materials.csv and material_words.csv.

Run from anywhere: python3 tests/reference/make_materials.py
It is run once per change of materials.csv and is not part of the program. It needs nothing but
the standard library, and it stops with a sentence when a row cannot be right.

materials.csv holds one row per material: the published or judged values, the codes of the sources
each row rests on, the confidence of the row (h, m, l) and a note that says which of its values are
recalled. What becomes of each value:

ranges
  moisture, nitrogen, C:N, bulk density   low and high stand in the table (spread Given)
  carbon        +-5 % of the value         (spread Usual; exact where a formula gives it)
  ash, lignin   +-30 % of the value        (spread Usual)
  P2O5, K2O     +-40 % of the value        (spread Usual)
  pH            +-0.5                      (spread Usual)
  All stay within 0-1 (pH 0-14); carbon and ash are held so that either end of one still leaves room
  for the typical value of the other. Where low and high of the table do not hold the typical value
  the range is widened and a line is printed.
  C:N is left out where there is no nitrogen or no carbon: the ratio says nothing then.

confidence (h = Read, m = Derived, l = Recalled), then lowered:
  moisture      Recalled where the note says estimated or recalled, or where no source of the row
                prints moisture
  nitrogen, C:N as the row, with those of its sources that print them
  carbon        at most Derived: it is N x C:N or stems from a table of composition
  ash           Derived where a source of composition is among the row's, else Recalled
  bulk density  Read only for paper, leaves, wood and straw in h rows with a source of densities and
                a note that does not say recalled or estimated; Derived with such a source otherwise;
                else Recalled
  lignin        Recalled for leaves, manure, bark and wherever no source of lignin is named; else Derived
  P2O5, K2O     Derived for kitchen rows from the food tables, for label grades and where the note
                prints them; else Recalled
  pH            Recalled, except stored urine
  pools         Derived for foods, straw, paper and wood; else Recalled
A value that rests on judgement has the source MEM; one recalled from the on-farm handbook NEHM.

material_words.csv holds, by id, what gardeners say: green, brown or neither by custom (lists of extension services
and garden societies agree on most; `common practice`), what else it is called, and what to know, which is the note on
screen. The note of materials.csv is for whoever checks the table: it stays there.

structure is a mapping by hand, from the table's words on structure.

settles_share, the share of the loose volume lost when piled a metre high and lightly trodden, is
tuned between rows of the table that give the same material loose and packed (leaves 120 -> 267,
grass 210 -> 390 kg/m3), the rest is common practice. It starts from SETTLES by structure; what is
soft or springy never settles beyond 530 kg/m3 (kitchen scraps of 450 kg/m3 and more lie slumped
already and lose the least, 0.15). SETTLES_ALSO holds single rows that differ.
"""

import csv
import re
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ASSETS = HERE.parent.parent / "assets"

FAMILY = {
    "leaves": "Leaves", "grass": "Grass", "straw_hay": "StrawHay", "crop_remains": "CropRemains",
    "garden_green": "GardenGreen", "garden_brown": "GardenBrown", "wood": "Wood",
    "aquatic": "Aquatic", "kitchen": "Kitchen", "processing": "Processing", "manure": "Manure",
    "paper": "Paper", "fibre": "Fibre", "plastic": "Plastic", "fertiliser": "Fertiliser",
    "mineral": "Mineral", "soil": "Soil",
}

STRUCTURE = {
    "Coarse": "corn_cobs shrub_trimmings tree_trimmings_leafy prunings_fruit prunings_whole "
    "wood_chips_arb wood_chips_hard wood_chips_soft bark_hard bark_soft nut_shells bamboo avocado_stones bones",
    "Springy": "pine_needles conifer_clippings hay_grass hay_legume straw straw_wheat straw_oat "
    "straw_barley straw_rice corn_stalks bean_haulm_dry sunflower_stalks bracken_green "
    "bracken_brown shavings reedmace sweetcorn_husks horse_straw horse_shavings "
    "small_pet_bedding feathers hemp_flax bagasse cotton_burrs stall_waste_strawy",
    "Leafy": "leaves_mixed leaves_dry_loose leaves_shredded leaves_wet_packed leaves_oak "
    "leaves_maple leaves_beech leaves_fruit_birch grass_dry hair wool cotton_waste evergreen_leaves moss_thatch",
    "Soft": "grass_wilted grass_long bean_haulm_green tomato_vines potato_tops brassica_stalks "
    "carrot_tops beet_turnip_tops onion_tops squash_vines green_manure_legume "
    "green_manure_mustard nettles weeds_stemmy weeds_roots garden_waste_soft flowers_houseplants "
    "hedge_soft onion citrus_peel rhubarb_leaves hops_spent",
    "Slumping": "grass_fresh grass_packed comfrey weeds_soft seaweed water_hyacinth duckweed "
    "pondweed veg_scraps leafy_greens root_peelings potato_peel fruit_waste apples_windfall "
    "banana_peel pumpkin melon_rind tomatoes mushrooms tea_bags bread food_waste_cooked "
    "apple_pomace brewers_grain silage bokashi",
    "Crumbly": "leafmould rice_hulls shellfish_waste egg_shells grape_pomace cocoa_shells "
    "alfalfa_pellets horse_fresh cattle_fym sheep_manure goat_manure poultry_litter "
    "poultry_pellets rabbit_manure pigeon_droppings cat_litter_wood hoof_horn compost_finished "
    "compost_rough potting_compost_spent mushroom_compost cork wood_pellets olive_pomace digestate "
    "alpaca_manure worm_castings",
    "Fine": "sawdust sawdust_rotted coffee_grounds tea_leaves cottonseed_meal soybean_meal "
    "vacuum_dust blood_meal bone_meal fish_meal feather_meal kelp_meal wood_ash biochar lime "
    "sawdust_hard wheat_bran rock_dust gypsum",
    "Sheet": "newspaper office_paper mixed_paper cardboard egg_boxes tissue glossy_paper "
    "compostable_plastic bag_mesh",
    "Dense": "potatoes rice_pasta meat_scraps fish_waste cheese cattle_fresh pig_manure "
    "poultry_fresh dog_waste humanure soil turf",
    "Liquid": "milk_yogurt eggs_spoiled fats_oils sugar molasses urine urea ammonium_sulphate "
    "npk_fertiliser drinks",
}
STRUCTURE_OF = {row: kind for kind, rows in STRUCTURE.items() for row in rows.split()}

SETTLES = {
    "Leafy": 0.50, "Slumping": 0.45, "Soft": 0.35, "Springy": 0.35, "Sheet": 0.25,
    "Crumbly": 0.15, "Coarse": 0.10, "Fine": 0.10, "Dense": 0.05, "Liquid": 0.0,
}
SETTLES_ALSO = {
    "leaves_wet_packed": 0.10,  # packed already
    "grass_packed": 0.05,  # packed already
    "leaves_shredded": 0.30,  # shreds lie closer from the start
    "horse_fresh": 0.05,  # droppings of 818 kg/m3 hardly give
    "weeds_roots": 0.20,  # stiff, with soil on them
    "shavings": 0.25,  # stiffer than straw
    "prunings_whole": 0.20,  # arching twigs
}
# What decides how a material rots beside its composition: share of its nitrogen that is mineral or becomes so within
# days, share of its dry matter that is wood or bark, acid that it neutralises (mol per kg dry matter).
# Lime: 2 mol per 100 g of CaCO3. Urine: 90-95 % of its nitrogen urea and ammonium (UR).
TRAITS = {}
for nitrogen, rows in [
    (1.0, "urea ammonium_sulphate npk_fertiliser"), (0.95, "urine"),
    (0.5, "poultry_fresh poultry_pellets pigeon_droppings"), (0.4, "poultry_litter digestate"),
    (0.3, "pig_manure humanure dog_waste rabbit_manure"),
    (0.2, "cattle_fresh cattle_fym sheep_manure goat_manure horse_fresh alpaca_manure"),
    (0.15, "horse_straw horse_shavings small_pet_bedding stall_waste_strawy"), (0.1, "blood_meal fish_meal"),
]:
    for row in rows.split():
        TRAITS.setdefault(row, {})["nitrogen_at_once"] = nitrogen
for wood, rows in [
    (1.0, "wood_chips_hard wood_chips_soft bark_hard bark_soft nut_shells cork"),
    (0.4, "cat_litter_wood"), (0.85, "wood_chips_arb prunings_whole"), (0.75, "prunings_fruit"),
    (0.6, "shrub_trimmings bamboo"), (0.25, "horse_shavings"), (0.5, "tree_trimmings_leafy"), (0.2, "small_pet_bedding"),
    # Fine wood has no room for threads to run through: it holds nitrogen fast, as gardeners find.
    (0.4, "sawdust sawdust_hard sawdust_rotted shavings wood_pellets"), (0.3, "conifer_clippings"), (0.1, "hedge_soft evergreen_leaves"),
]:
    for row in rows.split():
        TRAITS.setdefault(row, {})["wood"] = wood
for mol, rows in [(20.0, "lime"), (8.0, "wood_ash"), (2.0, "egg_shells shellfish_waste")]:
    for row in rows.split():
        TRAITS.setdefault(row, {})["liming_mol_per_kg"] = mol
TRAITS_FROM = {"urea": ("CHEM", "Read"), "ammonium_sulphate": ("CHEM", "Read"), "npk_fertiliser": ("CHEM", "Derived"),
               "lime": ("CHEM", "Derived"), "urine": ("UR", "Derived")}
# Fat is the most carbon-rich there is, 77 %; nothing in the table can hold more than this.
MOST_CARBON = 0.8

SETTLES_TO_AT_MOST_KG_PER_M3 = 530.0

# Which sources hold what.
OF_MOISTURE = {"NEH", "AB", "AF", "SR", "RB", "FAO", "COM", "AVO", "PEL", "SIL"}
OF_DENSITY = {"AB", "OR", "MA", "EPA-BG", "EPA-VW", "EPA-TX", "NEH", "PEL"}
NOT_OF_NITROGEN = {"OR", "MA", "EPA-BG", "EPA-VW", "EPA-TX", "LC", "CW", "POW", "CD", "JIN", "SCG", "VER",
                   "AM", "BAM", "MOS", "PEL"}
OF_ASH = {"SR", "CW", "POW", "POL7", "FAO", "COM", "SCG", "PUJ", "VER", "CD", "WA", "CHEM", "AVO", "BAM"}
OF_LIGNIN = {"LC", "CW", "SCG", "PUJ", "VER", "FAO", "JIN", "BAM"}
OF_POOLS = {"SR", "LC", "CW", "SCG", "VER", "FAO", "POW", "AM", "AVO", "BAM"}
FOODS = {"kitchen", "processing"}
FIRM_DENSITY = {"paper", "leaves", "wood", "straw_hay"}

SOURCES = [
    ("NEH", "USDA NRCS, National Engineering Handbook part 637, chapter 2 Composting (210-VI-NEH, 2000), table 2A-1; the same numbers as NRAES-54 appendix A",
     "Second-hand: the handbook itself was not open; the figures agree with what is remembered of the table."),
    ("NEHM", "Other rows of the same table; Rynk (ed.), On-Farm Composting Handbook, NRAES-54, 1992, appendix A",
     "From memory, not re-read."),
    ("HH", "Jenkins, Humanure Handbook, table 3.2 (compiled from Gotaas 1956, Rynk 1992, BioCycle 1998): nitrogen and C:N of 62 materials",
     "The full table was read."),
    ("POL", "Polprasert, Organic Waste Recycling, table 3.1 (Golueke 1972), equation 3.6, exercise 3.4", "The page was read."),
    ("POL7", "Polprasert, Organic Waste Recycling, table 7.4 (Boyd 1974), aquatic plants", "The page was read."),
    ("AB", "Alberta Agriculture, Manure Composting Manual, table 3, metric", "Read in a repost, not against the original."),
    ("AF", "Aguilera (UPM), afsetools 0.3.0, Biomass_coefs: dry matter, N, P, K, C of crops, residues, manures (IPCC 2019 table 11.2, Phyllis2, FEDNA 2016 and others)",
     "The full table was read; its nitrogen of timber is not used."),
    ("SR", "USDA National Nutrient Database for Standard Reference, release 26 (2013), abbreviated file",
     "The file was read; N = protein / 6.25; C = 0.53 protein + 0.77 fat + 0.45 fibre + 0.43 other carbohydrate, and those four factors are from memory."),
    ("RB", "AHDB Nutrient Management Guide RB209, section 2, and the older Defra edition: farmyard manures", "Read."),
    ("EPA-BG", "US EPA, Business Guide for Reducing Solid Waste, EPA/530-K-92-004 (1993), appendix D", "Read."),
    ("EPA-VW", "US EPA ORCR, Volume-to-Weight Conversion Factors (2016)", "Read as listed on a help page of the agency's energy programme."),
    ("EPA-TX", "US EPA factors as table 2.2 of a solid-waste textbook (Franchetti)", "Read."),
    ("OR", "Oregon DEQ, material conversion factors (2005)", "Read."),
    ("MA", "Massachusetts municipal recycling conversion factors", "Read in a quotation."),
    ("YT", "Characterization of fresh yard trimmings for agricultural use, Bioresource Technology 96:1499-1504 (2005)", "The abstract was read."),
    ("LC", "Lignocellulose contents of hardwood, softwood, cobs, straw, paper, newspaper, grasses; book chapter, table 3.2", "The table was read."),
    ("CW", "Composition of crop residues (rice, wheat, maize, barley, soya) quoted in a review of the Royal Society of Chemistry", "Read second-hand."),
    ("CD", "Coldwell and DeLong (1950), freshly fallen maple, beech, birch and poplar leaves", "The abstract was read."),
    ("JIN", "Jin et al., Phytochemistry 64:1023 (2003), lignin of leaf litter", "The abstract was read."),
    ("SCG", "Zuluaga et al., Molecules 29:5866 (2024), spent coffee grounds", "The abstract was read."),
    ("PUJ", "Pujol et al., Industrial Crops and Products 50:423 (2013), coffee grounds", "The abstract was read."),
    ("VER", "Ververis et al., Bioresource Technology 98:296 (2007), citrus peel", "The abstract was read."),
    ("NET", "Livestock Research for Rural Development 27(8), 2015, nettle (Urtica simensis)", "The abstract was read."),
    ("COM", "A comfrey grower's laboratory analysis (Portugal, 2014)", "Read."),
    ("FDP", "Feed pages on comfrey", "Read; low authority."),
    ("FAO", "FAO fisheries review of aquatic plants, section 4.4 water hyacinth", "Read in a repost."),
    ("KER", "Ningthoujam et al. (2018), keratin wastes about 90 % protein", "The abstract was read."),
    ("UR", "Kirchmann and Pettersson, Fertilizer Research 40:149 (1995), human urine", "The abstract was read."),
    ("TX", "Texas A&M Earth-Kind, Some Common Organic Fertilizers", "The table was read."),
    ("MN", "Minnesota Stormwater Manual, compost specification", "Read."),
    ("WA", "Encyclopaedia article on wood ash (Wikipedia)", "Read; low authority."),
    ("POW", "Questions and answers of a paper-trade site, no. 1056: filler in paper", "Read; low authority."),
    ("GS", "A gardening worksheet on the web with C:N values", "Read; low authority."),
    ("FW", "A C:N list on the web", "Read; low authority."),
    ("HND", "An anonymous handout on composting", "Read; low authority."),
    ("AM", "Allison and Murphy, Soil Science Society of America Proceedings 26:463 (1962), wood and bark of nine hardwoods in soil", "The abstract was read."),
    ("AVO", "Two studies of avocado seed: starch, sugars, protein, ash and water; Talabi et al., Asian Journal of Plant Science and Research 6(2):6 (2016), water", "The abstracts were read."),
    ("BAM", "Composition of bamboo (Chen 1984), quoted in a translated chapter on bamboo", "Read second-hand; low authority."),
    ("DIG", "Training material of an EU project on recovered nutrients: solid and liquid digestate of northern Europe", "Read on a page of news; a maker's own figures."),
    ("LLA", "One sample of llama droppings (University of Idaho laboratory) on a keeper's page; C:N 15-25 on a grower's page", "Read; low authority."),
    ("MOS", "Philben et al., Biogeosciences 15:6731 (2018), decomposition of forest moss", "The abstract was read."),
    ("PEL", "Cargo schedule of wood pellets, database of a shipping association", "Read."),
    ("SIL", "A farmers' cooperative on cutting maize for silage: water and crude protein by ripeness", "Read; N = protein / 6.25."),
    ("CHEM", "Molecular formula or label grade", "Exact."),
    ("MEM", "Judgement", "From memory; no source was read."),
    ("OWN", "The user's own measurement or estimate", "Entered by the user."),
]

def worse(*levels):
    order = ["Recalled", "Derived", "Read"]
    return min(levels, key=order.index)


def number(x):
    """Up to six significant digits, always with a point, so that 0.38 stays 0.38."""
    text = f"{x:.6g}"
    return text if "." in text else text + ".0"


def text(s):
    return '"' + s.replace("\\", "\\\\").replace('"', '\\"') + '"'


def codes_text(codes):
    return "[" + ", ".join(text(c) for c in codes) + "]"


def sourced(ends, codes, confidence, spread):
    low, typical, high = ends
    return (f"(low: {number(low)}, typical: {number(typical)}, high: {number(high)}, "
            f"sources: {codes_text(codes)}, confidence: {confidence}, spread: {spread})")


class Row:
    def __init__(self, raw, words):
        self.raw = raw
        self.words = words
        self.id = raw["id"]
        self.family = raw["family"]
        self.note = raw["note"]
        self.codes = raw["source"].split(";")
        self.level = {"h": "Read", "m": "Derived", "l": "Recalled"}[raw["confidence"]]
        unknown = set(self.codes) - {code for code, _, _ in SOURCES}
        if unknown:
            sys.exit(f"{self.id}: unknown source {unknown}; add it to SOURCES")

    def value(self, column):
        return float(self.raw[column])

    def given(self, typical, low, high, scale):
        ends = [self.value(low), self.value(typical), self.value(high)]
        if not ends[0] <= ends[1] <= ends[2]:
            print(f"{self.id}: {typical} {ends} does not hold its typical value; widened")
            ends = [min(ends), ends[1], max(ends)]
        return [x * scale for x in ends]

    def usual(self, column, relative, top=1.0):
        typical = self.value(column) / 100
        return [typical * (1 - relative), typical, max(typical, min(typical * (1 + relative), top))]

    def says(self, what):
        """Whether the note calls this value recalled or estimated, within one clause."""
        weak = r"(recalled|estimat)"
        return any(re.search(what, clause) and re.search(weak, clause)
                   for clause in re.split(r"[;.](?!\d)", self.note))

    def among(self, kinds):
        return [code for code in self.codes if code in kinds]

    def or_memory(self, codes, level):
        return (codes, level) if codes else (["MEM"], "Recalled")

    # Where a value comes from and how far it is to be trusted.

    def origin_of_moisture(self):
        if self.says(r"[Mm]oisture|rest ") or self.codes == ["NEHM"]:
            codes = ["NEHM"] if "NRAES" in self.note and "NEHM" in self.codes else ["MEM"]
            return codes, "Recalled"
        codes = self.among(OF_MOISTURE)
        if not codes and "NEHM" in self.codes:
            return ["NEHM"], "Recalled"
        return self.or_memory(codes, self.level)

    def origin_of_nitrogen(self):
        codes = [code for code in self.codes if code not in NOT_OF_NITROGEN]
        if codes in ([], ["MEM"]):
            return ["MEM"], "Recalled"
        return codes, self.level

    def origin_of_density(self):
        # The exercise in POL gives a density for rice straw and for nothing else.
        codes = self.among(OF_DENSITY | ({"POL"} if self.id == "straw_rice" else set()))
        if self.says(r"\bBD\b|lb/yd3|NRAES 116|rest "):
            if "NRAES" in self.note and not self.says("rest "):
                codes = [c for c in codes if c != "NEH"] + ["NEHM"]
                return codes, worse(self.level, "Derived" if len(codes) > 1 else "Recalled")
            return ["MEM"], "Recalled"
        if self.family in FIRM_DENSITY and self.level == "Read":
            return self.or_memory(codes, "Read")
        return self.or_memory(codes, worse(self.level, "Derived"))

    def origin_of_ash(self):
        return self.or_memory(self.among(OF_ASH), worse(self.level, "Derived"))

    def origin_of_lignin(self):
        if self.family == "kitchen" and "SR" in self.codes:
            return ["SR"], worse(self.level, "Derived")
        weak = self.family in {"leaves", "manure"} or self.id.startswith("bark_")
        codes = self.among(OF_LIGNIN)
        return self.or_memory(codes, "Recalled" if weak else worse(self.level, "Derived"))

    def origin_of_phosphate_and_potash(self):
        printed = re.search(r"P2O5|\bP 0\.|N:P:K", self.note)
        if self.family == "kitchen" and "SR" in self.codes:
            return ["SR"], worse(self.level, "Derived")
        if printed:
            return self.codes, worse(self.level, "Derived")
        return self.or_memory(self.among({"TX", "CHEM"}), worse(self.level, "Derived"))

    def origin_of_ph(self):
        return (["UR"], "Derived") if "UR" in self.codes else (["MEM"], "Recalled")

    def origin_of_pools(self):
        firm = self.family in FOODS | {"straw_hay", "paper", "wood"}
        codes = self.among(OF_POOLS)
        return self.or_memory(codes, worse(self.level, "Derived") if firm else "Recalled")

    # Values that need more than a look-up.

    def carbon_and_ash(self):
        exact = "CHEM" in self.codes
        carbon = self.usual("c_pct_dm", 0.0 if exact else 0.05, MOST_CARBON)
        ash = self.usual("ash_pct_dm", 0.0 if exact else 0.30)
        if carbon[1] + ash[1] > 1 + 1e-9:
            sys.exit(f"{self.id}: carbon and ash come to more than 100 %")
        carbon[2] = min(carbon[2], 1 - ash[1])
        ash[2] = min(ash[2], 1 - carbon[1])
        return carbon, ash

    def carbon_to_nitrogen(self):
        if not self.raw["cn"] or self.value("cn") == 0:
            return "None"
        n, cn, c = self.value("n_pct_dm"), self.value("cn"), self.value("c_pct_dm")
        if abs(n * cn - c) > 0.03 * c + 0.1:
            sys.exit(f"{self.id}: N x C:N = {n * cn:.1f} % but carbon is {c} %")
        ends = self.given("cn", "cn_lo", "cn_hi", 1)
        return f"Some({sourced(ends, *self.origin_of_nitrogen(), 'Given')})"

    def pools(self):
        names = ["fast", "medium", "slow", "inert"]
        shares = [self.value(f"{name}_frac") for name in names]
        if abs(sum(shares) - 1) > 0.02:
            sys.exit(f"{self.id}: pools add to {sum(shares)}")
        shares = [share / sum(shares) for share in shares]
        codes, level = self.origin_of_pools()
        body = ", ".join(f"{n}: {number(s)}" for n, s in zip(names, shares))
        return f"({body}, sources: {codes_text(codes)}, confidence: {level})"

    def structure(self):
        if self.id not in STRUCTURE_OF:
            sys.exit(f"{self.id}: no structure; add it to STRUCTURE")
        return STRUCTURE_OF[self.id]

    def settles(self):
        if self.id in SETTLES_ALSO:
            return SETTLES_ALSO[self.id]
        share = SETTLES[self.structure()]
        if self.structure() in {"Soft", "Slumping", "Springy"}:
            most = 1 - self.value("bulk_kg_m3") / SETTLES_TO_AT_MOST_KG_PER_M3
            share = min(share, max(most, 0.15))
        return round(share, 2)

    def traits(self):
        """The entry of TRAITS as a line of the table; nothing for most rows."""
        own = TRAITS.get(self.id)
        if own is None:
            return []
        code, level = TRAITS_FROM.get(self.id, ("MEM", "Recalled"))
        values = ", ".join(f"{name}: {number(own.get(name, 0.0))}"
                           for name in ["nitrogen_at_once", "wood", "liming_mol_per_kg"])
        return [("traits", f"({values}, sources: {codes_text([code])}, confidence: {level})")]

    def ron(self):
        carbon, ash = self.carbon_and_ash()
        ph = self.value("ph")
        pk = self.origin_of_phosphate_and_potash()
        exact = "CHEM" in self.codes
        spread_of_nutrients = 0.0 if exact else 0.40
        nitrogen_codes, nitrogen_level = self.origin_of_nitrogen()
        carbon_level = nitrogen_level if exact else worse(nitrogen_level, "Derived")
        carbon_spread = "Given" if exact else "Usual"
        lines = [
            ("id", text(self.id)),
            ("name", text(self.raw["name"])),
            ("family", FAMILY[self.family]),
            ("custom", f"Some({self.words['custom'].capitalize()})"),
            ("also_called", codes_text(called for called in self.words["also_called"].split(";") if called)),
            ("moisture", sourced(self.given("moisture_pct", "moisture_lo", "moisture_hi", 0.01),
                                 *self.origin_of_moisture(), "Given")),
            ("nitrogen", sourced(self.given("n_pct_dm", "n_lo", "n_hi", 0.01),
                                 nitrogen_codes, nitrogen_level, "Given")),
            ("carbon", sourced(carbon, nitrogen_codes, carbon_level, carbon_spread)),
            ("carbon_to_nitrogen", self.carbon_to_nitrogen()),
            ("ash", sourced(ash, *self.origin_of_ash(), carbon_spread)),
            ("lignin", sourced(self.usual("lignin_pct_dm", 0.30, 1 - ash[1]),
                               *self.origin_of_lignin(), "Usual")),
            ("bulk_density", sourced(self.given("bulk_kg_m3", "bulk_lo", "bulk_hi", 1),
                                     *self.origin_of_density(), "Given")),
            ("phosphate", sourced(self.usual("p2o5_pct_dm", spread_of_nutrients), *pk, carbon_spread)),
            ("potash", sourced(self.usual("k2o_pct_dm", spread_of_nutrients), *pk, carbon_spread)),
            ("ph", sourced([max(ph - 0.5, 0), ph, min(ph + 0.5, 14)], *self.origin_of_ph(), "Usual")),
            ("pools", self.pools()),
            ("structure", self.structure()),
            ("settles_share", number(self.settles())),
            *self.traits(),
            ("texture", text(self.raw["structure"])),
            ("note", text(self.words["know"])),
        ]
        return "    (\n" + "".join(f"        {name}: {value},\n" for name, value in lines) + "    ),\n"


def main():
    with open(HERE / "materials.csv", newline="", encoding="utf-8") as table:
        table = list(csv.DictReader(table))
    with open(HERE / "material_words.csv", newline="", encoding="utf-8") as words:
        words = {row["id"]: row for row in csv.DictReader(words)}
    unknown = set(words) ^ {raw["id"] for raw in table}
    if unknown:
        sys.exit(f"not in both of materials.csv and material_words.csv: {unknown}")
    rows = [Row(raw, words[raw["id"]]) for raw in table]
    if len({row.id for row in rows}) != len(rows):
        sys.exit("two rows of materials.csv have the same id")
    unknown = set(TRAITS) - {row.id for row in rows}
    if unknown:
        sys.exit(f"TRAITS names {unknown}, which are not in the table")
    head = (
        "// Compost materials: what each is made of, with range, source and trust of every value.\n"
        "// Made from tests/reference/materials.csv and material_words.csv by make_materials.py beside them, which says\n"
        "// how ranges and trust are set; change those three, not this file.\n"
        "// Shares are 0-1, of the mass as it is for moisture, of dry matter for the rest; bulk\n"
        "// density is loose and as it is, kg/m3. Codes of sources are in sources.ron.\n"
    )
    (ASSETS / "materials.ron").write_text(
        head + "[\n" + "".join(row.ron() for row in rows) + "]\n", encoding="utf-8")
    head = (
        "// Sources of materials.ron: what each is and how it was read.\n"
        "// Made by tests/reference/make_materials.py.\n"
    )
    body = "".join(
        f"    (\n        code: {text(code)},\n        title: {text(title)},\n        read: {text(read)},\n    ),\n"
        for code, title, read in SOURCES)
    (ASSETS / "sources.ron").write_text(head + "[\n" + body + "]\n", encoding="utf-8")
    print(f"{len(rows)} materials, {len(SOURCES)} sources")
    if "--table" in sys.argv:
        for row in rows:
            print(row.id, row.raw["confidence"], "moisture", *row.origin_of_moisture(),
                  "density", *row.origin_of_density(), "settles", row.settles(), sep=" ")


if __name__ == "__main__":
    main()
