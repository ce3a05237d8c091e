using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Finds out which sites there are and where they lie.</summary>
internal sealed class PlaceQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    private const int MostAsked = 8;

    public void Make()
    {
        // while it is open which column names places, there are none to ask about
        if (SiteColumns.IsAsked(table))
            return;
        Find();
        if (table.IsHopeless is null)
            new PlaceExactness(table).Make();
    }

    private void Find()
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
        (double? Latitude, double? Longitude)[] degrees = Signed(read, latitude, longitude);
        AskedColumn? site = table.Of(ColumnChoice.Site);
        table.Draft.Sites["decimal_latitude"] = DegreesSource.Of(latitude, [.. degrees.Select(place => place.Latitude)], both is not null,
            site);
        table.Draft.Sites["decimal_longitude"] = DegreesSource.Of(longitude, [.. degrees.Select(place => place.Longitude)],
            both is not null, site);
        if (site is not null)
            AskWithout(site, read);
    }

    // a site whose rows all have no coordinates
    private void AskWithout(AskedColumn site, (WrittenDegrees?, WrittenDegrees?)[] read)
    {
        string[] without = [.. site.Distinct.Where(name => !Enumerable.Range(0, read.Length)
            .Any(i => SiteIds.AreSame(site.TextAt(i), name) && read[i] is ({ }, { })))];
        if (without.Length is 0 or > MostAsked)
            return;
        JsonObject north = (JsonObject)table.Draft.Sites["decimal_latitude"]!, east = (JsonObject)table.Draft.Sites["decimal_longitude"]!;
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
        (double? Latitude, double? Longitude)[] degrees = Signed(read, at, at);
        if (LineQuestions.Source(table, [.. degrees.Select(place => (string?)DegreesSource.Plain(place.Latitude!.Value))])
                is not { } latitude
            || LineQuestions.Source(table, [.. degrees.Select(place => (string?)DegreesSource.Plain(place.Longitude!.Value))])
                is not { } longitude)
        {
            return false;
        }
        table.Draft.Sites["decimal_latitude"] = latitude;
        table.Draft.Sites["decimal_longitude"] = longitude;
        return true;
    }

    private (double? Latitude, double? Longitude)[] Signed((WrittenDegrees? Latitude, WrittenDegrees? Longitude)[] read,
        AskedColumn latitude, AskedColumn longitude)
    {
        AskedColumn? site = table.Of(ColumnChoice.Site), country = table.Of(ColumnChoice.Country);
        WrittenPlace[] places = [.. read.Select((place, i) => new WrittenPlace(place.Latitude, place.Longitude,
            country is not null && IsCode(country.TextAt(i)) ? country.TextAt(i) : table.Group?.CountryCode, site?.TextAt(i)))];
        return Sides(isWaiting: table.Campaign is { Groups.Count: > 0 } && table.Group is null, "").Of(places,
            new SidesOfAxis(places.Select(place => place.Latitude), latitude.Sense.Half is 'N' or 'S' ? latitude.Sense.Half : null, false),
            new SidesOfAxis(places.Select(place => place.Longitude),
                longitude.Sense.Half is 'E' or 'W' or 'O' ? longitude.Sense.Half : null, false),
            Seen, string.Join(", ", new[] { latitude.Name, longitude.Name }.Distinct()));

        IReadOnlyList<SeenCell> Seen(IReadOnlySet<WrittenPlace> those)
        {
            IReadOnlyList<SeenCell> north = latitude.Seen(i => those.Contains(places[i]));
            return latitude == longitude ? north : [.. north.Take(3), .. longitude.Seen(i => those.Contains(places[i])).Take(3)];
        }
    }

    private SideQuestions Sides(bool isWaiting, string suffix) => new(_ask, isWaiting, table.Of(ColumnChoice.Site) is not null,
        LetterO.IsEast(
            [
                .. table.Columns.Select(column => column.Name), .. table.Lines.Select(cell => cell.Value.Text),
                .. table.Columns.Where(column => column.IsWords && column.Distinct.Count <= 6).SelectMany(column => column.Distinct),
            ],
            table.Group?.CountryCode, table.Group?.Language, table.Campaign?.Language, _ask.Words.Code), suffix);

    private static bool IsCode(string text) => text.Length == 2 && text.All(char.IsAsciiLetterUpper);

    private static (WrittenDegrees?, WrittenDegrees?) Both(AskedColumn column, int row) =>
        PlaceText.PairOf(column.TextAt(row)) is { } pair ? (pair.First, pair.Second) : (null, null);

    private static WrittenDegrees? One(AskedColumn column, int row)
    {
        WrittenDegrees? read = column.TypedNumber(row) is { } number ? new WrittenDegrees(number, null) : PlaceText.Of(column.TextAt(row));
        return read is { Degrees: >= -360 and <= 360 } ? read : null;
    }

    private string[] Sites()
    {
        AskedColumn? plots = table.Of(ColumnChoice.Plot);
        if ((table.Of(ColumnChoice.Site) ?? (plots is not null && ArePlaces(plots) ? plots : null)) is not { } column)
        {
            AskedColumn? at = table.Of(ColumnChoice.Position) ?? table.Of(ColumnChoice.Latitude);
            if (table.PlacedBy is { } numbered && table.StatedPlaces is { } places && places.Length == table.Rows.Count)
            {
                string[] known = [.. places.Select(place => place.Place).Distinct()];
                JsonObject byNumber = MappingDraft.Column(numbered);
                byNumber["words"] = MappingDraft.Words(Enumerable.Range(0, table.Rows.Count).Select(row =>
                    (numbered.TextAt(row), Invariant($"site-{Array.IndexOf(known, places[row].Place) + 1}"))));
                Put(byNumber);
            }
            else if (at is { Distinct.Count: > 1 })
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
            if (plots is null)
                _ask.Tell("site-made", 1, []);
            else
                _ask.Tell("site-made-plots", 1, plots.Seen(), plots.Name);
            return ["site-1"];
        }
        if (column.Name is BlockJoiner.TitleColumn or BlockJoiner.SheetColumn)
            _ask.Tell("site-by-title", column.Distinct.Count, column.Seen());
        List<(string Name, string Id)> words = SiteIds.Of(column.Distinct);
        JsonObject source = MappingDraft.Column(column);
        source["words"] = MappingDraft.Words(words);
        Put(source);
        (string Name, string Id)[] changed = [.. words.Where(word => word.Name != word.Id)];
        if (changed.Length > 0)
        {
            table.Draft.Sites["notes"] = MappingDraft.Column(column);
            _ask.Tell("site-ids", changed.Length, column.Seen(i => changed.Any(word => word.Name == column.TextAt(i))),
                string.Join(", ", changed.Take(3).Select(word => $"{word.Name}: {word.Id}")));
        }
        return [.. column.Distinct];
    }

    // a plot with coordinates of its own is a place, as parcela and parcelle may be
    private bool ArePlaces(AskedColumn plots) =>
        (table.Of(ColumnChoice.Position) ?? table.Of(ColumnChoice.Latitude)) is { Distinct.Count: > 1 } at
        && Enumerable.Range(0, table.Rows.Count).GroupBy(plots.TextAt).All(rows => rows.Select(at.TextAt).Distinct().Count() == 1);

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
        List<WrittenPlace> typed = [];
        foreach (string name in names)
        {
            string? answer = _ask.Enter(Interview.Values, (projected is null ? "place:" : "place-projected:") + name, QuestionKind.Text,
                text => PlaceText.PairOf(text) is { } pair && pair.First.Degrees is >= -90 and <= 90, null, projected ?? [], name);
            if (answer is not null && PlaceText.PairOf(answer) is { } place)
                typed.Add(new WrittenPlace(place.First, place.Second, table.Group?.CountryCode, name));
        }
        // each was typed for itself: without a letter it is north and east, if the country does not say otherwise
        (double? Latitude, double? Longitude)[] degrees = Sides(isWaiting: false, ":typed").Of(typed,
            new SidesOfAxis(typed.Select(place => place.Latitude), null, true),
            new SidesOfAxis(typed.Select(place => place.Longitude), null, true), _ => [], string.Join(", ", names));
        Put("decimal_latitude", [.. degrees.Select(place => place.Latitude)]);
        Put("decimal_longitude", [.. degrees.Select(place => place.Longitude)]);

        void Put(string field, double?[] values)
        {
            if (table.Of(ColumnChoice.Site) is { } column)
            {
                JsonObject source = MappingDraft.Column(column);
                source["words"] = MappingDraft.Words(typed.Select((place, i) => (place.Name!, DegreesSource.Plain(values[i]!.Value))));
                table.Draft.Sites[field] = source;
            }
            else if (values.Length > 0)
            {
                table.Draft.Sites[field] = MappingDraft.Value(DegreesSource.Plain(values[0]!.Value));
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

    // one that is not known may lie anywhere
    private bool FitsAnyHalf(double latitude, double longitude) => table.Group?.CountryCode is not { } code
        || new[] { 1, -1 }.Any(a => new[] { 1, -1 }.Any(b =>
            WorldOutlines.Shipped.Holds(code, a * Math.Abs(latitude), b * Math.Abs(longitude)) ?? true));
}
