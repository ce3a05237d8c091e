using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Proposal;

/// <param name="Field">"bags.mass_initial_g", or null where no field is meant for certain.</param>
/// <param name="Near">A field that may be meant; only a person can tell.</param>
/// <param name="Role">The bag it belongs to, where the name says so.</param>
internal sealed record HeaderMeaning(string? Field, string? Near, LitterRole? Role, string? Unit, string? Basis);

/// <summary>Reads the names of columns: plain words of four languages that people write over measurements.</summary>
internal static partial class HeaderWords
{
    private static readonly (string Field, string[] Phrases)[] Lexicon =
    [
        ("sites.site_id", ["site", "siteid", "sitecode", "location", "standort", "station", "lieu", "sitio"]),
        ("sites.decimal_latitude", ["latitude", "lat", "breite", "breitengrad", "latitud"]),
        ("sites.decimal_longitude", ["longitude", "long", "lon", "lng", "lange", "laenge", "langengrad", "laengengrad", "longitud"]),
        ("sites.coordinate_uncertainty_m", ["accuracy", "gpsaccuracy", "uncertainty", "genauigkeit"]),
        ("sites.country_code", ["country", "countrycode", "staat", "pays", "pais"]),
        ("sites.ecosystem", ["ecosystem", "habitat", "okosystem", "oekosystem", "ecosysteme", "ecosistema"]),
        ("sites.land_use", ["landuse", "nutzung", "landnutzung", "usodelsuelo"]),
        ("sites.management", ["management", "farming", "bewirtschaftung", "gestion"]),
        ("sites.elevation_m", ["elevation", "altitude", "hohe", "hoehe", "altitud"]),
        ("bags.bag_id", ["bag", "bagid", "bagcode", "bagnumber", "bagno", "beutel", "sachet", "bolsa"]),
        ("bags.burial_id", ["burial", "burialid", "hole", "pair", "pairid", "loch", "trou"]),
        ("bags.plot", ["plot", "parzelle", "parcelle", "parcela"]),
        ("bags.replicate", ["replicate", "rep", "replica", "wiederholung", "repetition"]),
        ("bags.lot_id", ["lot", "lotid", "lotnumber", "batch", "batchno", "charge", "lote"]),
        ("bags.role", ["role", "litter", "littertype", "streu", "litiere"]),
        ("bags.treatment", ["treatment", "behandlung", "traitement", "tratamiento"]),
        ("bags.mass_initial_g", ["initialmass", "massinitial", "massbefore", "massbeforeburial", "weightbefore", "startweight",
            "startmass", "initialweight", "weightin", "gewichtvorher", "massevorher", "anfangsgewicht", "masseinitiale", "poidsinitial",
                "pesoinicial"]),
        ("bags.mass_final_g", ["finalmass", "massfinal", "massafter", "massafterretrieval", "weightafter", "endweight", "endmass",
            "finalweight", "weightout", "gewichtnachher", "massenachher", "endgewicht", "massefinale", "poidsfinal", "pesofinal"]),
        ("bags.drying_temperature_c", ["dryingtemperature", "oventemperature", "trockentemperatur"]),
        ("bags.drying", ["drying", "dried", "trocknung", "sechage"]),
        ("bags.ash_fraction", ["ash", "ashfraction", "ashcontent", "asche", "aschegehalt"]),
        ("bags.buried_on", ["buried", "buriedon", "burialdate", "dateburied", "dateofburial", "vergraben", "vergrabenam", "enterrele"]),
        ("bags.retrieved_on", ["retrieved", "retrievedon", "retrievaldate", "dateretrieved", "recovered", "dugup", "ausgegraben",
            "ausgegrabenam", "recolte"]),
        ("bags.depth_cm", ["depth", "burialdepth", "tiefe", "profondeur", "profundidad"]),
        ("bags.condition", ["condition", "bagcondition", "zustand", "etat", "estado"]),
        ("bags.unused_material", ["unused", "unusedmaterial"]),
        ("bags.balance_resolution_g", ["balance", "balanceresolution", "waage"]),
        ("bags.notes", ["notes", "remarks", "comments", "comment", "bemerkung", "bemerkungen", "remarques", "observaciones"]),
    ];

    private static readonly (string Field, string[] Phrases)[] LexiconOfResults =
    [
        ("results.result_id", ["id", "row", "result", "study"]),
        ("results.burials", ["n", "number", "anzahl", "nombre", "numero"]),
        ("results.fast_remaining_mean", ["fastremaining", "fastmassremaining", "fastmean"]),
        ("results.fast_remaining_sd", ["fastsd"]),
        ("results.slow_remaining_mean", ["slowremaining", "slowmassremaining", "slowmean"]),
        ("results.slow_remaining_sd", ["slowsd"]),
        ("results.k_per_day", ["k", "k1d", "kmean", "meank", "decayrate"]),
        ("results.k_error_per_day", ["kerror", "ksd", "kse", "sdk", "sek"]),
        ("results.s", ["s", "smean", "means", "stabilisation", "stabilization"]),
        ("results.s_error", ["serror", "ssd", "sse", "sds", "ses"]),
        ("results.exposure_days", ["days", "exposure", "tage", "jours", "dias"]),
        ("results.fast_lot_id", ["fastlot"]),
        ("results.slow_lot_id", ["slowlot"]),
    ];

    private static readonly Dictionary<string, string> FieldByPhrase = MakePhrases();

    private static readonly Dictionary<string, string> FieldOfResultsByPhrase = MakePhrasesOfResults();

    private static readonly Dictionary<string, LitterRole?> Roles = ByWord<LitterRole?>(
        (LitterRole.Fast, ["fast", "schnell", "rapide", "rapida"]), (LitterRole.Slow, ["slow", "langsam", "lent", "lente", "lenta"]));

    private static readonly Dictionary<string, string> Bases = ByWord<string>(
        ("gross", ["gross", "brutto", "brut"]), ("litter", ["net", "netto"]));

    private static readonly Dictionary<string, string> Units = ByWord<string>(
        ("g", ["g", "gram", "grams"]), ("mg", ["mg"]), ("kg", ["kg"]), ("m", ["m"]), ("km", ["km"]), ("cm", ["cm"]), ("mm", ["mm"]),
        ("um", ["um", "µm"]), ("in", ["inch", "inches"]), ("ft", ["ft", "feet"]), ("percent", ["%", "percent"]));

    /// <summary>Whether a table has a row a mean and not a row a bag: k, S or a mean of what remained, and no mass.</summary>
    public static bool AreOfResults(IReadOnlyCollection<string> names) =>
        names.Any(name => Read(name, isOfResults: true).Field is "results.k_per_day" or "results.s" or "results.fast_remaining_mean"
            or "results.slow_remaining_mean")
        && !names.Any(name => Read(name, isOfResults: false).Field is "bags.mass_initial_g" or "bags.mass_final_g");

    public static HeaderMeaning Read(string name, bool isOfResults)
    {
        List<string> words = [.. Word().Matches(Fold(name)).Select(match => match.Value)];
        // a row of means has both litters, and their names are part of those of its columns
        LitterRole? role = isOfResults ? null : Take(words, Roles);
        string? basis = isOfResults ? null : Take(words, Bases);
        Dictionary<string, string> fieldByPhrase = isOfResults ? FieldOfResultsByPhrase : FieldByPhrase;
        string whole = string.Concat(words);
        string? field = fieldByPhrase.GetValueOrDefault(whole);
        string? unit = null;
        if (words.Count > 1 && Units.TryGetValue(words[^1], out string? stated))
        {
            unit = stated;
            field ??= fieldByPhrase.GetValueOrDefault(string.Concat(words.SkipLast(1)));
            whole = string.Concat(words.SkipLast(1));
        }
        string? near = field is null && Nearest.Of(whole, fieldByPhrase.Keys.Where(phrase => phrase.Length > 3)) is { } phrase
            ? fieldByPhrase[phrase] : null;
        return new HeaderMeaning(field, near, role, unit, basis);
    }

    // What a word means, and the name without it.
    private static T? Take<T>(List<string> words, Dictionary<string, T> known)
    {
        string? word = words.Find(known.ContainsKey);
        return word is not null && words.Remove(word) ? known[word] : default;
    }

    // Small letters without accents; ß and the like stay as they are.
    private static string Fold(string text) => string.Concat(text.ToLowerInvariant().Select(c => c switch
    {
        'ä' or 'á' or 'à' or 'â' => 'a',
        'ö' or 'ó' or 'ò' or 'ô' => 'o',
        'ü' or 'ú' or 'ù' or 'û' => 'u',
        'é' or 'è' or 'ê' or 'ë' => 'e',
        'í' or 'ì' or 'î' or 'ï' => 'i',
        'ç' => 'c',
        'ñ' => 'n',
        _ => c,
    }));

    private static Dictionary<string, T> ByWord<T>(params (T Meaning, string[] Words)[] entries) =>
        entries.SelectMany(entry => entry.Words.Select(word => (word, entry.Meaning))).ToDictionary();

    private static Dictionary<string, string> MakePhrases()
    {
        Dictionary<string, string> phrases = ByWord(Lexicon);
        // The names of the schema mean what they mean; where two tables have one, the bag is what a row is about.
        foreach (TableSchema table in new[] { SchemaCatalogue.Sites, SchemaCatalogue.Bags })
        {
            foreach (string name in table.ColumnNames.Where(name => name != "site_id"))
                phrases[name.Replace("_", "", StringComparison.Ordinal)] = $"{table.Name}.{name}";
        }
        return phrases;
    }

    // What a row of means shares with a row of a bag keeps its words.
    private static Dictionary<string, string> MakePhrasesOfResults()
    {
        TableSchema results = SchemaCatalogue.Results;
        Dictionary<string, string> phrases = ByWord(LexiconOfResults);
        foreach ((string phrase, string field) in FieldByPhrase)
        {
            string[] parts = field.Split('.');
            if (parts[0] == "sites")
                phrases.TryAdd(phrase, field);
            else if (results.FindOrdinal(parts[1]) >= 0)
                phrases.TryAdd(phrase, "results." + parts[1]);
        }
        foreach (string name in results.ColumnNames.Where(name => name != "site_id"))
            phrases[name.Replace("_", "", StringComparison.Ordinal)] = "results." + name;
        return phrases;
    }

    [GeneratedRegex(@"\p{L}+|%|\d+", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Word();
}
