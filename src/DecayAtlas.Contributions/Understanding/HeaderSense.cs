using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Understanding;

/// <summary>What the words of a column's name are about.</summary>
internal enum Concept
{
    Mass, First, Last, Burying, Retrieving, Date, Loss, Remaining, Tare, Mean, Sd, Count, Site, Latitude, Longitude, Position, Bag, Burial,
    Plot, Replicate, Number, Lot, Litter, Treatment, Notes, Condition, Depth, Drying, WithBag, Days, Rate, Stabilisation, Old, Person,
    Ecosystem, LandUse, Management, Elevation, Country, Uncertainty, Batch, Balance, Easting, Northing, Unused, Ash, Unit, OfLitter, Soil,
    WithoutBag, Change, AshFree, Moisture, StandardError, Spread, Interval, DayOfYear,
    Corrected,
}

/// <summary>The name of a column, understood by words of four languages.</summary>
/// <param name="Half">N, S, E, W or O (which is east in German and west in French and Spanish), where the name says it.</param>
internal sealed record HeaderSense(IReadOnlySet<Concept> Concepts, LitterRole? Role, string? Unit, string? Basis, char? Half)
{
    /// <summary>How many days one of a duration is: 7 of weeks, 1/24 of hours.</summary>
    public double DaysEach { get; init; } = 1;

    /// <summary>How many months one of a duration is: 12 of years; missing where it is not counted in either.</summary>
    public int? MonthsEach { get; init; }

    public bool Has(Concept concept) => Concepts.Contains(concept);

    /// <summary>What it says of a column that holds a part of what stands in each cell.</summary>
    public HeaderSense Of(CellPart part) => part switch
    {
        CellPart.Mean => this with { Concepts = Concepts.Except(OfScatter).Append(Concept.Mean).ToHashSet() },
        CellPart.Spread => this with { Concepts = Concepts.Except([Concept.Count, Concept.Mean]).Append(Concept.Spread).ToHashSet() },
        CellPart.Count => this with { Concepts = new HashSet<Concept> { Concept.Count }, Unit = null },
        CellPart.FirstDay => this with { Concepts = new HashSet<Concept> { Concept.Burying } },
        CellPart.LastDay => this with { Concepts = new HashSet<Concept> { Concept.Retrieving } },
        _ => this,
    };

    private static readonly Concept[] OfScatter =
        [Concept.Sd, Concept.StandardError, Concept.Interval, Concept.Spread, Concept.Count];

    public bool HasAny(params ReadOnlySpan<Concept> concepts)
    {
        foreach (Concept concept in concepts)
        {
            if (Concepts.Contains(concept))
                return true;
        }
        return false;
    }
}

/// <summary>Understands names of columns. Words are folded: small, without accents; a compound is found by its beginning or end.</summary>
internal static partial class HeaderWords
{
    private static readonly (Concept Concept, string Words)[] Lexicon =
    [
        (Concept.Mass,
            "gewicht masse masa masas mass weight wt peso pesada poids weighing wiegung m mg gramm grams einwaage auswaage m0 m1 mt "
                + "mf mi w0 w1"),
        (Concept.First,
            "vorher vor before initial initiale start startgewicht anfang anfangs ausgangs avant antes debut inicial inicio in begin "
                + "beginn "
            + "beginning ein depart m0 w0 mi erst erstgewicht zu_beginn first einwaage rein pre t0 premiere primera primer erste "
                + "entrada origin desde von from starting comienzo einbau anfangsmasse"),
        (Concept.First, "eingefullt abgefullt filled rempli remplie llenado llenada relleno"),
        (Concept.Last,
            "arrivee ruckwaage rueckwaage "
                + "nachher nach after final finale end ende endgewicht apres despues fin out aus schluss m1 mt mf w1 last auswaage raus "
            + "heraus post bis until ausbau salida ending cierre "
            + "zum_schluss letzte derniere ultima ultimo finish hasta restmasse restgewicht t1 am_ende"),
        (Concept.Burying,
            "vergraben eingegraben eingraben vergrabung eingrabung buried burial bury planted put_in in_ground into_ground enterrado "
            + "enterrada enterramiento entierro enfoui enfouie enfouissement enterre enterree pose mis_en_terre mise_en_terre rein "
                + "entrada placed installed mise mis depose puesta puesto plantado eingesetzt einbau ausgebracht gesetzt "
            + "installation deployed ausgelegt ausbringung colocado colocada incubation_start planting set_out"),
        (Concept.Retrieving,
            "ausgegraben ausgraben ausgrabung dug dug_up dig_up digging retrieved retrieval lifted recovered recovery recuperado "
                + "recuperada recuperacion "
            + "recogida recogido sacada sacado desenterrado desenterrada desentierro deterre deterree retrait recolte recuperation "
                + "recupere sorti_de_terre "
            + "sortie_de_terre out_of_ground geborgen bergung heraus raus taken_out taken_up collected collection extraccion "
                + "extraido extraction unearthed "
            + "sortie sorti reprise retiro ausbau ausgebaut abgeholt geholt releve relevee levee exhume exhumed salida "
            + "harvested entnahme entnommen pulled removed retirado retirada retire"),
        (Concept.Date, "datum date dates fecha tag day jour dia wann when cuando quand le am fecha_de"),
        (Concept.Loss,
            "verlust gewichtsverlust masseverlust massenverlust loss lost "
                + "lost_mass verloren perte perdu perdue perdida perdido abnahme schwund massloss decrease "
                + "disminucion verschwunden disappeared disparu disparue desaparecido desaparecida"),
        (Concept.Change,
            "change anderung veranderung changement evolution cambio variation variacion differenz difference diferencia diff delta"),
        (Concept.Remaining,
            "remaining rest restmasse restgewicht verbleibend ubrig ubriggeblieben restant restante remanente left leftover leftovers "
                + "verblieben remains residual residuel queda quedan resta restan reste "
            + "verbleib remain"),
        (Concept.Tare,
            "tara tare leergewicht leerbeutel leerer_beutel leere_beutel leeren_beutel "
                + "beutelgewicht empty_bag bag_weight empty_weight netzgewicht sachet_vide poids_du_sachet_vide "
                + "bolsa_vacia "
            + "peso_bolsa"),
        (Concept.Mean, "mean mittel mittelwert media moyenne promedio average avg durchschnitt"),
        (Concept.Sd, "sd stdev stabw std ecart_type desviacion stddev standardabweichung"),
        (Concept.StandardError,
            "sem standardfehler standard_error std_error stderr error_estandar error_tipico erreur_type erreur_standard"),
        (Concept.Interval, "ci ki ic confidence konfidenzintervall vertrauensbereich intervalo_de_confianza intervalle_de_confiance"),
        (Concept.Spread, "error err fehler erreur abweichung streuung dispersion"),
        (Concept.Count,
            "n anzahl nombre numero_de_bolsas count replicates repetitions repeticiones wiederholungen bags bolsas bolsitas number_of "
            + "no_of num_of n_de numero_de"),
        (Concept.Site,
            "platz beet spot site siteid sitecode location standort station lieu sitio lugar ort place emplacement endroit "
                + "where flache feld field "
                + "paraje clave "
            + "code_site stelle wo donde ubicacion localidad finca fundort standortname campo huerta huerto bancal champ schlag acker bed "
            + "garden garten jardin prado potager parterre wiese meadow"),
        (Concept.Latitude, "latitude lat breite breitengrad latitud geogr_breite nord norte nordwert_grad"),
        (Concept.Longitude, "longitude long lon lng lange laenge langengrad laengengrad longitud geogr_lange"),
        (Concept.Position,
            "koordinaten koordinate coordenadas coordonnees coordinates coords gps position posicion lage latlon geo georef"),
        (Concept.Bag, "bag bagid bagno beutel sachet sachets bolsa bolsita streubeutel sac litterbag beutelnummer beutelnr "
            + "saquito saquitos pochette pochettes sackchen netzbeutel probe sample muestra echantillon"),
        (Concept.Burial,
            "burial burialid hole loch grabloch grab grube trou fosse hoyo agujero pozo pit pair paar paire pareja par pairid "
            + "vergrabung enfouissement bagpair lochnr"),
        (Concept.Plot, "plot parzelle parcelle parcela subplot teilflache quadrat"),
        (Concept.Replicate, "replicate rep replica wiederholung repetition repeticion replikat wdh repl"),
        (Concept.Number, "nr no num number nummer numero n_º n_° # id code lfd laufnummer"),
        (Concept.Lot, "lot lotid charge lote partie lotnr"),
        (Concept.Litter, "litter streu litiere hojarasca littertype sorte type tipo typ clase art kind role litter_type material variete"),
        (Concept.Treatment, "treatment behandlung traitement tratamiento variante manejo treat modalite"),
        (Concept.Notes,
            "notes note remarks remark comments comment bemerkung bemerkungen anmerkung remarques remarque observaciones observacion "
            + "commentaire commentaires comentarios comentario notiz notizen notas observations hinweis "
            + "aufgefallen beobachtung beobachtungen"),
        (Concept.Condition, "condition zustand etat estado state"),
        (Concept.Depth, "depth tiefe profondeur profundidad"),
        (Concept.Drying, "drying dried trocknung getrocknet sechage secado seche"),
        (Concept.WithBag,
            "mit_netz mit_beutel with_bag with_net con_bolsa avec_sachet con_malla avec_filet with_the_bag incl_bag including_bag "
                + "brutto_netto inkl_netz "
            + "beutel_dabei"),
        (Concept.WithoutBag, "ohne_netz ohne_beutel without_bag without_net sin_bolsa sin_bolsita sans_sachet sans_filet excl_bag"),
        (Concept.Days, "tage days jours dias expositionsdauer exposure liegedauer dauer duration duracion duree"),
        (Concept.DayOfYear,
            "doy julian day_of_year day_of_the_year tag_des_jahres kalendertag jour_de_l_annee jour_julien dia_del_ano dia_juliano"),
        (Concept.Rate, "k decayrate k_value kwert tasa"),
        (Concept.Stabilisation, "s stabilisation stabilization stabilisierung estabilizacion stabilisierungsfaktor"),
        (Concept.Old, "old alt alte ancien ancienne antiguo antigua anterior previous vieux"),
        (Concept.Corrected,
            "corrected korrigiert korrigierte berichtigt corrige corrigee corriges corrigees rectifie rectifiee corregido corregida "
            + "corregidos corregidas"),
        (Concept.Person,
            "name alumno alumna schuler schuelerin pupil student eleve checked_by operator person initials responsable who wer "
                + "nombre_alumno gardener gartner jardinero jardinera jardinier"),
        (Concept.Ecosystem, "ecosystem habitat okosystem oekosystem ecosysteme ecosistema biotop"),
        (Concept.LandUse, "landuse land_use nutzung landnutzung uso_del_suelo uso utilisation occupation usage"),
        (Concept.Management, "management farming bewirtschaftung gestion"),
        (Concept.Elevation, "elevation altitude hohe hoehe altitud"),
        (Concept.Country, "country staat pays pais land countrycode"),
        (Concept.Uncertainty, "accuracy gpsaccuracy uncertainty genauigkeit precision"),
        (Concept.Batch, "batch"),
        (Concept.Balance, "balance waage resolution"),
        (Concept.Easting, "x easting rechtswert ostwert este utm_x utmx"),
        (Concept.Northing, "y northing hochwert nordwert utm_y utmy"),
        (Concept.Unused, "unused"),
        (Concept.Ash, "ash asche cendre cenizas"),
        (Concept.AshFree, "ash_free afdm aschefrei aschefreie aschfrei sans_cendres hors_cendres sin_cenizas libre_de_cenizas"),
        (Concept.Moisture, "feuchte restfeuchte moisture humidite humedad wassergehalt water_content teneur_en_eau contenido_de_agua"),
        (Concept.Unit, "unit einheit unite unidad units"),
        (Concept.OfLitter, "of_the_litter of_litter der_streu de_la_litiere de_la_hojarasca"),
        (Concept.Soil, "soil boden sol suelo ph temp temperature temperatur temperatura feuchte humidity moisture"),
    ];

    private static readonly Dictionary<string, string> UnitOf = new (string Meaning, string Words)[]
    {
        ("g", "g gr gramm gram grams gramos grammes"),
        ("mg", "mg"),
        ("kg", "kg"),
        ("oz", "oz ounce ounces onza onzas onces unze unzen"),
        ("m", "m"),
        ("km", "km"),
        ("cm", "cm"),
        ("mm", "mm"),
        ("ft", "ft"),
        ("percent", "% prozent percent pct"),
    }.SelectMany(entry => entry.Words.Split(' ').Select(word => (word, entry.Meaning))).ToDictionary();

    private static readonly Dictionary<string, string> Bases = new (string Meaning, string Words)[]
    {
        ("gross", "gross brutto brut bruto"),
        ("litter", "net netto neto"),
    }.SelectMany(entry => entry.Words.Split(' ').Select(word => (word, entry.Meaning))).ToDictionary();

    // whose points part no words
    private static readonly string[] Abbreviations = ["s.d", "s.e.m", "s.e", "e.e", "e.t"];

    private static readonly Dictionary<string, List<Concept>> ConceptsOf = MakeConcepts();

    public static LitterRole? RoleOf(string word) => LitterWords.RoleOf(word);

    public static HeaderSense Read(string name, string? unitRow)
    {
        string folded = Abbreviations.Aggregate(Identifier.Folded(name), (text, dotted) => text.Replace(dotted,
            dotted.Replace(".", "", StringComparison.Ordinal), StringComparison.Ordinal));
        string[] tokens = [.. Token().Matches(folded).Select(match => match.Value)];
        HashSet<Concept> concepts = [];
        string joined = $"_{string.Join('_', tokens)}_";
        foreach ((string word, List<Concept> meant) in ConceptsOf)
        {
            // a whole word counts before its parts: desentierro is no entierro
            bool isThere = word.Contains('_', StringComparison.Ordinal) ? joined.Contains($"_{word}_", StringComparison.Ordinal)
                : tokens.Any(token => token == word || (word.Length >= 5 && token.Length > word.Length && !ConceptsOf.ContainsKey(token)
                    && (token.StartsWith(word, StringComparison.Ordinal) || token.EndsWith(word, StringComparison.Ordinal))));
            if (isThere)
                concepts.UnionWith(meant);
        }
        if (tokens is [string first, string second] && first.Length == 1 && second.Length == 1
            && ConceptsOf.TryGetValue(first + second, out List<Concept>? both))
        {
            concepts.UnionWith(both);   // m_t
        }
        if (name.TrimEnd() is { } plain && (plain.EndsWith(" DE", StringComparison.Ordinal)
            || plain.EndsWith(" SE", StringComparison.Ordinal)
            || plain.EndsWith(" ET", StringComparison.Ordinal) || plain.EndsWith(" DS", StringComparison.Ordinal)))
        {
            concepts.Add(Concept.Sd);
        }
        // se at the end, and in capitals the Spanish EE; of two such columns the second has a 2 behind its name
        if (tokens.LastOrDefault(token => !char.IsAsciiDigit(token[0])) == "se"
            || name.TrimEnd(' ', ')', ']', '2').Split(' ', '(', '[')[^1] == "EE"
            || (name.StartsWith("SE ", StringComparison.Ordinal) && (tokens.Count(token => char.IsLetter(token[0])) == 2
                || name.Any(char.IsLower))))
        {
            concepts.Add(Concept.StandardError);
        }
        // mean ± SE (n = 5)
        if (BehindSign().Match(name) is { Success: true } behind)
            concepts.Add(behind.Groups["error"].Success ? Concept.StandardError : Concept.Sd);
        if (concepts.Contains(Concept.StandardError))
            concepts.Add(Concept.Sd);
        if (name.Contains('±', StringComparison.Ordinal) || concepts.Contains(Concept.Interval))
            concepts.Add(Concept.Spread);
        if (TimeUnits.IsCountAlone(name))
            concepts.Add(Concept.Days);
        // hours and weeks are counted in days; months are of several lengths
        bool isDuration = concepts.Contains(Concept.Days);
        double? each = isDuration ? TimeUnits.ExactDaysOf($"{name} {unitRow}") : null;
        int? months = !isDuration || each is not null ? null
            : TimeUnits.MonthsOf(name) ?? (unitRow is null ? null : TimeUnits.MonthsOf(unitRow));
        // k x 1000 is no easting
        if (concepts.Contains(Concept.Rate) && RateUnits.Of(name).Exponent != 0)
            concepts.Remove(Concept.Easting);
        // a rate per so many days is no time
        if (concepts.Contains(Concept.Rate) && RateUnits.Of(name).Days is not null)
            concepts.Remove(Concept.Days);
        // bag weight after drying: the bag with what is left in it
        if (concepts.Contains(Concept.Tare) && concepts.Overlaps([Concept.Last, Concept.Retrieving]) && !joined.Contains("empty",
            StringComparison.Ordinal) && !joined.Contains("leer", StringComparison.Ordinal) && !joined.Contains("vide",
            StringComparison.Ordinal) && !joined.Contains("vaci", StringComparison.Ordinal) && !joined.Contains("tar",
            StringComparison.Ordinal))
        {
            concepts.Remove(Concept.Tare);
        }
        string? unit = null;
        foreach (string token in tokens.Skip(1).Concat(InUnitRow(unitRow)))
            unit = UnitOf.GetValueOrDefault(token, unit!);

        // inches, and no first weighing
        if (concepts.Contains(Concept.Depth) && tokens.Skip(1).Concat(InUnitRow(unitRow)).Any(Inches.Contains))
        {
            unit = "in";
            concepts.Remove(Concept.First);
        }

        LitterRole? role = RoleOf(name);
        string? basis = tokens.Select(token => Bases.GetValueOrDefault(token)).FirstOrDefault(b => b is not null)
            ?? (concepts.Contains(Concept.WithoutBag) ? "litter" : concepts.Contains(Concept.WithBag) ? "gross" : null)
            ?? BagOrLitter.BasisOf(name);
        return new HeaderSense(concepts, role, unit, basis, HalfOf(name, unitRow)) { DaysEach = each ?? 1, MonthsEach = months };
    }

    private static readonly string[] Inches = ["in", "inch", "inches", "zoll", "pulgada", "pulgadas", "pouce", "pouces"];

    private static IEnumerable<string> InUnitRow(string? unitRow) => unitRow is null ? []
        : Token().Matches(Identifier.Folded(unitRow)).Select(match => match.Value);

    // (N), ° E, sur, oeste: only beside another word, so that a column n is none
    private static char? HalfOf(string name, string? unitRow)
    {
        string[] tokens = [.. Token().Matches(Identifier.Folded($"{name} {unitRow}")).Select(match => match.Value)];
        if (tokens.Length < 2)
            return null;
        foreach (string token in tokens.Skip(1))
        {
            char? half = token switch
            {
                "n" or "nord" or "norte" or "north" => 'N',
                "s" or "sud" or "sur" or "south" => 'S',
                "e" or "est" or "este" or "east" or "ost" => 'E',
                "w" or "west" or "oeste" or "ouest" => 'W',
                "o" => 'O',
                _ => null,
            };
            if (half is not null)
                return half;
        }
        return null;
    }

    private static Dictionary<string, List<Concept>> MakeConcepts()
    {
        Dictionary<string, List<Concept>> concepts = [];
        foreach ((Concept concept, string words) in Lexicon)
        {
            foreach (string word in words.Split(' ').Distinct())
            {
                if (!concepts.TryGetValue(word, out List<Concept>? known))
                    concepts[word] = known = [];
                known.Add(concept);
            }
        }
        return concepts;
    }

    [GeneratedRegex(@"(±|\+/-)\s*((?<error>S\.?E\b|EE\b)|S\.?D\b|DE\b|ET\b|DS\b)",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex BehindSign();

    [GeneratedRegex(@"\p{L}+\d*|\d+|%|°|º|#", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Token();
}
