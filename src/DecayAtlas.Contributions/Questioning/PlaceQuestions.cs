using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Finds out which sites there are and where they lie. A half of the Earth that is not written is asked, unless only one of the
/// two lies in the country of the group.</summary>
internal sealed class PlaceQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    private const int MostAsked = 8;

    private const double MostFromCountryMetres = 30_000;

    public void Make()
    {
        string[] names = Sites();
        AskedColumn? both = table.Of(ColumnChoice.Position), latitude = both ?? table.Of(ColumnChoice.Latitude),
            longitude = both ?? table.Of(ColumnChoice.Longitude);
        if (latitude is null && longitude is null)
        {
            AskedColumn? x = table.Of(ColumnChoice.Easting), y = table.Of(ColumnChoice.Northing);
            if (x is not null && y is not null)
                (latitude, longitude) = (y, x);
        }
        if (latitude is null || longitude is null)
        {
            if (!FromTexts())
                AskPlaces(names, null);
            return;
        }
        (WrittenDegrees? Latitude, WrittenDegrees? Longitude)[] read =
            [.. Enumerable.Range(0, table.Rows.Count).Select(i => both is not null ? Both(both, i)
                : (One(latitude, i), One(longitude, i)))];
        if (!read.Any(place => place.Latitude is not null && place.Longitude is not null))
        {
            bool isProjected = latitude.Cells.Concat(longitude.Cells).Any(cell => WrittenNumber.Of(AskedColumn.TextOf(cell)) is { } number
                && number.Digits.Count(char.IsAsciiDigit) >= 5);
            AskPlaces(names, isProjected ? [.. latitude.Seen().Take(4), .. longitude.Seen().Take(4)] : null);
            return;
        }
        if (IsSwapped(read, latitude, longitude))
        {
            (latitude, longitude) = (longitude, latitude);
            read = [.. read.Select(place => (place.Longitude, place.Latitude))];
        }
        (int ofLatitude, int ofLongitude, char? o) = Halves(read, latitude, longitude);
        table.Draft.Sites["decimal_latitude"] = Source(latitude, [.. read.Select(place => Signed(place.Latitude, ofLatitude, o))],
            both is not null);
        table.Draft.Sites["decimal_longitude"] = Source(longitude, [.. read.Select(place => Signed(place.Longitude, ofLongitude, o))],
            both is not null);
        // a site whose rows all have no coordinates
        if (table.Of(ColumnChoice.Site) is { } site)
        {
            string[] without = [.. site.Distinct.Where(name => !Enumerable.Range(0, read.Length)
                .Any(i => SameSite(site.TextAt(i), name) && read[i] is ({ }, { })))];
            if (without.Length is > 0 and <= MostAsked)
            {
                JsonObject north = (JsonObject)table.Draft.Sites["decimal_latitude"]!,
                    east = (JsonObject)table.Draft.Sites["decimal_longitude"]!;
                AskPlaces(without, null);
                foreach ((string field, JsonObject source) in new[] { ("decimal_latitude", north), ("decimal_longitude", east) })
                {
                    if (table.Draft.Sites[field] is JsonObject asked && asked != source)
                    {
                        asked["form"] = "listed";
                        table.Draft.Sites[field] = source;
                        source["or"] = new JsonArray(asked);
                    }
                }
            }
        }
    }

    private static bool SameSite(string one, string other) => KeyOf(one) == KeyOf(other);

    private static string KeyOf(string name) => string.Concat(Identifier.Folded(NameIn(name)).Where(char.IsLetterOrDigit));

    // the name in a title that holds the coordinates too
    private static string NameIn(string text) => LineFacts.Split(text).Name is { Length: > 0 } name ? name : text;

    // coordinates in the names of sites, or in lines beside the table
    private bool FromTexts()
    {
        AskedColumn? site = table.Of(ColumnChoice.Site);
        string?[] texts = [.. Enumerable.Range(0, table.Rows.Count).Select(i => site is not null
            && LineFacts.Split(site.TextAt(i)).Place is { } own ? own
            : table.StatedPlaces is { } stated && stated.Length == table.Rows.Count ? stated[i].Place : null)];
        if (texts.Any(text => text is null || PlaceText.PairOf(text) is null))
            return false;
        (WrittenDegrees? Latitude, WrittenDegrees? Longitude)[] read =
            [.. texts.Select(text => PlaceText.PairOf(text!)!.Value).Select(pair =>
                ((WrittenDegrees?)pair.First, (WrittenDegrees?)pair.Second))];
        AskedColumn at = site ?? table.Columns[0];
        (int ofLatitude, int ofLongitude, char? o) = Halves(read, at, at);
        if (LineQuestions.Source(table, [.. read.Select(place => (string?)Plain(Signed(place.Latitude, ofLatitude,
            o)!.Value))]) is not { } latitude
            || LineQuestions.Source(table, [.. read.Select(place => (string?)Plain(Signed(place.Longitude, ofLongitude,
                o)!.Value))]) is not { } longitude)
        {
            return false;
        }
        table.Draft.Sites["decimal_latitude"] = latitude;
        table.Draft.Sites["decimal_longitude"] = longitude;
        return true;
    }

    private static (WrittenDegrees?, WrittenDegrees?) Both(AskedColumn column, int row) =>
        PlaceText.PairOf(column.TextAt(row)) is { } pair ? (pair.First, pair.Second) : (null, null);

    private static WrittenDegrees? One(AskedColumn column, int row)
    {
        WrittenDegrees? read = column.TypedNumber(row) is { } number ? new WrittenDegrees(number, null) : PlaceText.Of(column.TextAt(row));
        return read is { Degrees: >= -360 and <= 360 } ? read : null;
    }

    // A site's names, each an id; a name that differs by capitals, accents and blanks alone is the same.
    private string[] Sites()
    {
        if (table.Of(ColumnChoice.Site) is not { } column)
        {
            AskedColumn? at = table.Of(ColumnChoice.Position) ?? table.Of(ColumnChoice.Latitude);
            if (at is { Distinct.Count: > 1 })
            {
                JsonObject byPlace = MappingDraft.Column(at);
                byPlace["words"] = MappingDraft.Words(at.Distinct.Select((text, i) => (text, Invariant($"site-{i + 1}"))));
                Put(byPlace);
            }
            else
            {
                string name = table.StatedPlaces?[0].Name is { Length: > 0 and <= 40 } said && Identifier.Of(said) is { Length: > 0 } id
                    ? id : "site-1";
                Put(MappingDraft.Value(name));
                if (name != "site-1")
                    return [name];
            }
            _ask.Tell("site-made", 1, []);
            return ["site-1"];
        }
        Dictionary<string, string> idOf = [];
        List<(string, string)> words = [];
        foreach (string name in column.Distinct)
        {
            string key = KeyOf(name);
            if (!idOf.TryGetValue(key, out string? id))
            {
                string made = Identifier.Of(NameIn(name));
                id = made.Length == 0 ? Invariant($"site-{idOf.Count + 1}") : made;
                for (int n = 2; idOf.ContainsValue(id); n++)
                    id = Invariant($"{(made.Length > 60 ? made[..60] : made)}-{n}");
                idOf[key] = id;
            }
            words.Add((name, id));
        }
        JsonObject source = MappingDraft.Column(column);
        source["words"] = MappingDraft.Words(words);
        Put(source);
        string[] changed = [.. words.Where(word => word.Item1 != word.Item2).Select(word => word.Item1)];
        if (changed.Length > 0)
        {
            table.Draft.Sites["notes"] = MappingDraft.Column(column);
            _ask.Tell("site-ids", changed.Length, column.Seen(i => changed.Contains(column.TextAt(i))),
                string.Join(", ", words.Where(word => word.Item1 != word.Item2)
                .Take(3).Select(word => $"{word.Item1}: {word.Item2}")));
        }
        return [.. column.Distinct];
    }

    private void Put(JsonObject source)
    {
        table.Draft.Sites["site_id"] = source;
        (table.Draft.OneRowIs == "result" ? table.Draft.Results : table.Draft.Bags)["site_id"] = source.DeepClone();
    }

    private void AskPlaces(string[] names, IReadOnlyList<SeenCell>? projected)
    {
        if (names.Length > MostAsked)
        {
            table.IsHopeless = projected is null ? "no-places" : "projected";
            return;
        }
        List<(string, string)> latitudes = [], longitudes = [];
        foreach (string name in names)
        {
            string? answer = _ask.Enter(Interview.Values, (projected is null ? "place:" : "place-projected:") + name, QuestionKind.Text,
                text => PlaceText.PairOf(text) is { } pair && pair.First.Degrees is >= -90 and <= 90, null, projected ?? [], name);
            if (answer is null || PlaceText.PairOf(answer) is not { } place)
                continue;
            latitudes.Add((name, Plain(Signed(place.First, 1, null)!.Value)));
            longitudes.Add((name, Plain(Signed(place.Second, 1, _ask.Words.Code.StartsWith("de", StringComparison.Ordinal) ? 'E'
                : 'W')!.Value)));
        }
        foreach ((string field, List<(string, string)> values) in new[] { ("decimal_latitude", latitudes),
            ("decimal_longitude", longitudes) })
        {
            if (table.Of(ColumnChoice.Site) is { } column)
            {
                JsonObject source = MappingDraft.Column(column);
                source["words"] = MappingDraft.Words(values);
                table.Draft.Sites[field] = source;
            }
            else if (values.Count > 0)
            {
                table.Draft.Sites[field] = MappingDraft.Value(values[0].Item2);
            }
        }
    }

    private bool IsSwapped((WrittenDegrees? Latitude, WrittenDegrees? Longitude)[] read, AskedColumn latitude, AskedColumn longitude)
    {
        (double Latitude, double Longitude)[] places = [.. read.Where(p => p.Latitude is not null && p.Longitude is not null)
            .Select(p => (p.Latitude!.Degrees, p.Longitude!.Degrees))];
        bool isImpossible = places.Any(p => Math.Abs(p.Latitude) > 90);
        bool isOutside = places.All(p => !FitsAnyHalf(p.Latitude, p.Longitude)) && places.All(p => FitsAnyHalf(p.Longitude, p.Latitude));
        bool saysSo = latitude != longitude && read.Any(p => p.Latitude?.IsLatitude == false || p.Longitude?.IsLatitude == true);
        if (!isImpossible && !saysSo && (!isOutside || table.Group is null))
            return false;
        return _ask.Choose(Interview.Values, "swapped", [_ask.Option("yes", "swapped"), _ask.Option("no", "not-swapped")], "yes",
            [.. latitude.Seen().Take(3), .. longitude.Seen().Take(3)], latitude.Name, longitude.Name) != "no";
    }

    // whether a place can lie in the country of the group: the outlines are thinned; null where the country is not known
    private bool? Holds(double latitude, double longitude) => table.Group?.CountryCode is { } code
        && WorldOutlines.Shipped.Find(code) is { } country
            ? Math.Abs(latitude) <= 90 && country.DistanceMetres(latitude, longitude) <= MostFromCountryMetres : null;

    private bool FitsAnyHalf(double latitude, double longitude) => new[] { 1, -1 }.Any(a => new[] { 1, -1 }.Any(b =>
        Holds(a * Math.Abs(latitude), b * Math.Abs(longitude)) ?? true));

    // the sign that goes before numbers without one, and what O is
    private (int Latitude, int Longitude, char? O) Halves((WrittenDegrees? Latitude, WrittenDegrees? Longitude)[] read,
        AskedColumn latitude, AskedColumn longitude)
    {
        (double Latitude, double Longitude)[] places = [.. read.Where(p => p.Latitude is not null && p.Longitude is not null)
            .Select(p => (p.Latitude!.Degrees, p.Longitude!.Degrees))];
        bool isSigned = places.Any(p => p.Latitude < 0 || p.Longitude < 0);
        char? statedLatitude = latitude.Sense.Half is 'N' or 'S' ? latitude.Sense.Half : null,
            statedLongitude = longitude.Sense.Half is 'E' or 'W' or 'O' ? longitude.Sense.Half : null;
        bool latitudeOpen = !isSigned && statedLatitude is null && read.Any(p => p.Latitude is { Letter: null });
        bool longitudeOpen = !isSigned && statedLongitude is null && read.Any(p => p.Longitude is { Letter: null });
        bool isO = statedLongitude == 'O' || read.Any(p => p.Longitude?.Letter == 'O' || p.Latitude?.Letter == 'O');
        if (!latitudeOpen && !longitudeOpen && !isO)
            return (statedLatitude == 'S' ? -1 : 1, statedLongitude == 'W' ? -1 : 1, null);
        // the group decides which country may decide
        bool isWaiting = table.Campaign is { Groups.Count: > 0 } && table.Group is null;
        (int A, int B)[] halves =
        [
            .. from a in latitudeOpen ? [1, -1] : new[] { statedLatitude == 'S' || read.Any(p => p.Latitude?.Letter == 'S') ? -1 : 1 }
               from b in longitudeOpen || isO ? [1, -1] : new[] { statedLongitude == 'W' || read.Any(p => p.Longitude?.Letter == 'W') ? -1
                   : 1 }
               select (a, b),
        ];
        (int A, int B)[] fitting = [.. halves.Where(half => places.All(p =>
            Holds(half.A * Math.Abs(p.Latitude), half.B * Math.Abs(p.Longitude)) == true))];
        IReadOnlyList<SeenCell> seen = latitude == longitude ? latitude.Seen() : [.. latitude.Seen().Take(3), .. longitude.Seen().Take(3)];
        (int A, int B) chosen = fitting.Length > 0 ? fitting[0] : halves[0];
        if (fitting.Length == 1)
        {
            _ask.Tell(isO && !latitudeOpen ? "o-by-country" : "half-by-country", places.Length, seen, Name(chosen),
                table.Group!.CountryCode);
        }
        else if (!isWaiting)
        {
            string? likely = fitting.Length > 1 && !isO ? null
                : isO && LetterIsEast(table) is { } isEast ? Code((halves[0].A, isEast ? 1 : -1)) : null;
            string? answer = _ask.Choose(Interview.Values, isO && !latitudeOpen ? "o-half" : "half",
                [.. halves.Select(half => new Choice(Code(half), Shown(half, places[0])))],
                likely, seen, isO ? "O" : "");
            chosen = halves.FirstOrDefault(half => Code(half) == answer, likely is null ? chosen
                : halves.First(half => Code(half) == likely));
        }
        return (latitudeOpen || statedLatitude is not null ? chosen.A : 1, isO || longitudeOpen || statedLongitude is not null ? chosen.B
            : 1,
            isO ? chosen.B > 0 ? 'E' : 'W' : null);
    }

    // O is Ost in German, and Ouest or Oeste in French and Spanish: by the sheet's own words, else by where the group is at home
    private static bool? LetterIsEast(AskedTable table)
    {
        string[] words = [.. table.Columns.Select(column => column.Name).Concat(table.Lines.Select(cell => cell.Value.Text))
            .Concat(table.Columns.Where(column => column.IsWords && column.Distinct.Count <= 6).SelectMany(column => column.Distinct))];
        return SheetLanguage.Of(words) switch
        {
            "de" => true,
            "es" or "fr" => false,
            _ => table.Group?.CountryCode switch
            {
                "DE" or "AT" or "LI" => true,
                "FR" or "ES" or "MX" or "AR" or "CL" or "CO" or "PE" or "UY" or "EC" or "BO" or "PY" or "VE" or "RE" or "MC" => false,
                _ => (table.Group?.Language ?? table.Campaign?.Language)?[..2] switch { "de" => true, "es" or "fr" => false, _ => null },
            },
        };
    }

    private static string Code((int A, int B) half) => $"{(half.A > 0 ? 'N' : 'S')}{(half.B > 0 ? 'E' : 'W')}";

    private string Name((int A, int B) half) =>
        $"{_ask.Words[half.A > 0 ? "ask.north" : "ask.south"]}, {_ask.Words[half.B > 0 ? "ask.east" : "ask.west"]}";

    private string Shown((int A, int B) half, (double Latitude, double Longitude) place) =>
        $"{Name(half)}: {Plain(half.A * Math.Abs(place.Latitude))}, {Plain(half.B * Math.Abs(place.Longitude))}";

    private static double? Signed(WrittenDegrees? written, int otherwise, char? o) => written is null ? null
        : written.Letter switch
        {
            'S' or 'W' => -Math.Abs(written.Degrees),
            'N' or 'E' => Math.Abs(written.Degrees),
            'O' => o == 'W' ? -Math.Abs(written.Degrees) : Math.Abs(written.Degrees),
            _ => written.IsSigned ? written.Degrees : otherwise * written.Degrees,
        };

    // to a hundredth of a millimetre, which no one writes
    private static string Plain(double degrees) => Math.Round(degrees, 8).ToString("0.########", CultureInfo.InvariantCulture);

    private static JsonObject Source(AskedColumn column, double?[] degrees, bool isBoth)
    {
        JsonObject source = MappingDraft.Column(column);
        bool isPlain = !isBoth && Enumerable.Range(0, degrees.Length).All(i => column.TextAt(i).Length == 0
            || (degrees[i] is { } d && double.TryParse(column.TextAt(i).Replace(',', '.'), NumberStyles.Float,
                CultureInfo.InvariantCulture, out double asIs)
                && Math.Abs(asIs - d) < 1e-9));
        if (isPlain)
        {
            (column.Distinct.Any(text => text.Contains(',', StringComparison.Ordinal))
                ? new NumberForm(column.Distinct.Any(text => text.Contains('.', StringComparison.Ordinal)) ? '\0' : ',', '\0', false)
                : new NumberForm('.', '\0', false)).WriteInto(source, column);
            return source;
        }
        source["words"] = MappingDraft.Words(Enumerable.Range(0, degrees.Length)
            .Where(i => column.TextAt(i).Length > 0 && degrees[i] is not null)
            .Select(i => (column.TextAt(i), Plain(degrees[i]!.Value))).DistinctBy(word => word.Item1));
        return source;
    }
}
