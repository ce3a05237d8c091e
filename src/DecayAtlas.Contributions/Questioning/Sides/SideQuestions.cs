using System.Globalization;

namespace DecayAtlas.Contributions.Questioning.Sides;

/// <summary>
/// Finds out on which side of the equator and of Greenwich places lie: latitude and longitude apart, and each place for itself. What is
/// written counts; where nothing is, the country of a place decides if it reaches to one side only; all else is asked.
/// </summary>
/// <param name="isWaiting">Who the group is, and so its country, is asked first.</param>
/// <param name="canDiffer">Whether places with the same number can be told apart by their site.</param>
/// <param name="letterIsEast">What O likely is.</param>
/// <param name="suffix">Of the ids of questions.</param>
internal sealed class SideQuestions(Interview ask, bool isWaiting, bool canDiffer, bool? letterIsEast, string suffix = "")
{
    private const int MostAsked = 8;

    private sealed record Candidate(int North, int East)
    {
        public string Code => $"{(North > 0 ? 'N' : 'S')}{(East > 0 ? 'E' : 'W')}";
    }

    /// <param name="Asked">What of it is not said: the sides of its latitude and of its longitude.</param>
    /// <param name="By">The country that decided some of it, empty for land; null for none.</param>
    private sealed record Doubt(WrittenPlace Place, (WrittenSide Latitude, WrittenSide Longitude) Asked, Candidate Written,
        Candidate[] All, string? By)
    {
        public Candidate? Likely { get; init; }

        public bool IsUnlike => Asked.Latitude is WrittenSide.Said or WrittenSide.Unlike && Asked.Longitude is WrittenSide.Said
            or WrittenSide.Unlike;

        public string Kind => IsUnlike ? "half-mixed" : Asked is (WrittenSide.Said, WrittenSide.LetterO) ? "o-half" : "half";
    }

    /// <summary>Degrees with their signs.</summary>
    /// <param name="seenOf">The cells in which places stand.</param>
    public (double? Latitude, double? Longitude)[] Of(IReadOnlyList<WrittenPlace> places, SidesOfAxis latitudes, SidesOfAxis longitudes,
        Func<IReadOnlySet<WrittenPlace>, IReadOnlyList<SeenCell>> seenOf, string columns)
    {
        IReadOnlyList<SeenCell> seen = seenOf(places.ToHashSet());
        Dictionary<WrittenPlace, Candidate> decided = [];
        List<Doubt> doubts = [];
        CountryOutline[] homes = [.. places.Where(IsSaid).Select(place => Home(place, latitudes, longitudes)).OfType<CountryOutline>()
            .Distinct()];
        List<(Doubt Sides, string Country)> byCountry = [], byLand = [];
        foreach (WrittenPlace place in places.Distinct())
        {
            Doubt open = DoubtOf(place, latitudes, longitudes), doubt = Narrowed(open);
            decided[place] = doubt.Written;
            if (open.All.Length == 1 || isWaiting)
                continue;
            if (doubt.All.Length > 1
                && (!doubt.IsUnlike || doubt.Likely is not null || doubt.By is { Length: > 0 } || IsNear(doubt, homes)))
            {
                doubts.Add(doubt);
            }
            if (!open.IsUnlike && doubt.By is { } country && doubt.Asked != open.Asked)
                (country.Length > 0 ? byCountry : byLand).Add((doubt, country));
        }
        if (!canDiffer && doubts.Count > 0)
        {
            // one number, one side
            doubts = [.. places.Distinct().Select(place => DoubtOf(place, latitudes, longitudes)).Where(doubt => doubt.All.Length > 1)];
            byCountry = [];
            byLand = [];
        }
        Tell(byCountry.Count > 0 && doubts.Count == 0 && IsOOnly(places, latitudes, longitudes) ? "o-by-country" : "half-by-country",
            byCountry, seen);
        Tell("half-by-land", byLand, seen);
        if (longitudes.OIsEast is { } isEast && longitudes.Letters.Contains('O')
            && !places.Any(place => IsOtherO(place, latitudes, longitudes)))
        {
            ask.Tell("o-by-letter", 1, seen, ask.Words[isEast ? "ask.east" : "ask.west"], isEast ? "W" : "E");
        }
        foreach (IGrouping<(string Kind, WrittenSide, WrittenSide), Doubt> alike in doubts.GroupBy(doubt =>
            (doubt.Kind, doubt.Asked.Latitude, doubt.Asked.Longitude)))
        {
            Ask(alike.Key.Kind, [.. alike], decided, seenOf(alike.Select(doubt => doubt.Place).ToHashSet()), columns);
        }
        return [.. places.Select(place => (
            place.Latitude is { } north ? decided[place].North * Math.Abs(north.Degrees) : (double?)null,
            place.Longitude is { } east ? decided[place].East * Math.Abs(east.Degrees) : (double?)null))];

        bool IsSaid(WrittenPlace place) => place is { Latitude: { } north, Longitude: { } east }
            && latitudes.SideOf(north) == WrittenSide.Said && longitudes.SideOf(east) == WrittenSide.Said;
    }

    private static Doubt DoubtOf(WrittenPlace place, SidesOfAxis latitudes, SidesOfAxis longitudes)
    {
        (WrittenSide Latitude, WrittenSide Longitude) asked = (
            place.Latitude is { } north ? latitudes.SideOf(north) : WrittenSide.Said,
            place.Longitude is not { } east ? WrittenSide.Said
                : IsOtherO(place, latitudes, longitudes) ? WrittenSide.LetterO : longitudes.SideOf(east));
        // who writes a minus west of Greenwich would write one south of the equator too, and the other way round
        if (FitsAsWritten(place, latitudes, longitudes))
        {
            asked = (longitudes.IsByMinus && asked.Latitude == WrittenSide.Open ? WrittenSide.Said : asked.Latitude,
                latitudes.IsByMinus && asked.Longitude == WrittenSide.Open ? WrittenSide.Said : asked.Longitude);
        }
        Candidate written = new(place.Latitude is { } n ? latitudes.SignOf(n) : 1, place.Longitude is { } e ? longitudes.SignOf(e) : 1);
        Candidate[] all =
        [
            .. from a in asked.Latitude == WrittenSide.Said ? new[] { written.North } : [1, -1]
               from b in asked.Longitude == WrittenSide.Said ? new[] { written.East } : [1, -1]
               select new Candidate(a, b),
        ];
        return new Doubt(place, asked, written, all, null);
    }

    // by the other letters of the column O is the side on which it does not lie in its country
    private static bool IsOtherO(WrittenPlace place, SidesOfAxis latitudes, SidesOfAxis longitudes)
    {
        if (place is not { Latitude: { } north, Longitude: { Letter: 'O' } east, CountryCode: { } code } || longitudes.OIsEast is null)
            return false;
        (double latitude, double longitude) = At(place, new Candidate(latitudes.SignOf(north), longitudes.SignOf(east)));
        return WorldOutlines.Shipped.Holds(code, latitude, longitude) == false
            && WorldOutlines.Shipped.Holds(code, latitude, -longitude) == true;
    }

    // not where it lies in its country, or where none is known on land, with the other sign alone
    private static bool FitsAsWritten(WrittenPlace place, SidesOfAxis latitudes, SidesOfAxis longitudes)
    {
        if (place is not { Latitude: { } north, Longitude: { } east } || latitudes.IsByMinus == longitudes.IsByMinus)
            return false;
        Candidate written = new(latitudes.SignOf(north), longitudes.SignOf(east)),
            other = latitudes.IsByMinus ? written with { East = -written.East } : written with { North = -written.North };
        return IsIn(written) != false || IsIn(other) != true;

        bool? IsIn(Candidate sides)
        {
            (double latitude, double longitude) = At(place, sides);
            return place.CountryCode is { } code ? WorldOutlines.Shipped.Holds(code, latitude, longitude)
                : WorldOutlines.Shipped.HasLandAt(latitude, longitude);
        }
    }

    // the sides on which the place lies in its country; where none is said and one half is written, on land
    private static Doubt Narrowed(Doubt doubt)
    {
        if (doubt.All.Length == 1 || doubt.Place is not { Latitude: not null, Longitude: not null } place)
            return doubt;
        string? code = place.CountryCode is { } stated && WorldOutlines.Shipped.Find(stated) is not null ? stated : null;
        if (code is null && (place.CountryCode is not null || doubt.Asked is (WrittenSide.Open, WrittenSide.Open or WrittenSide.LetterO)))
            return doubt;
        Candidate[] fitting = [.. doubt.All.Where(sides => At(place, sides) is var at && Math.Abs(at.Latitude) <= 90
            && (code is null ? WorldOutlines.Shipped.HasLandAt(at.Latitude, at.Longitude)
                : WorldOutlines.Shipped.Holds(code, at.Latitude, at.Longitude) == true))];
        if (fitting.Length == 0)
            return doubt;
        // a minus that others have and it has not is never put there unasked
        bool isNorthOne = fitting.All(sides => sides.North == fitting[0].North),
            isNorthKnown = isNorthOne && !(doubt.Asked.Latitude == WrittenSide.Unlike && fitting[0].North != doubt.Written.North),
            isEastOne = fitting.All(sides => sides.East == fitting[0].East),
            isEastKnown = isEastOne && !(doubt.Asked.Longitude == WrittenSide.Unlike && fitting[0].East != doubt.Written.East);
        return doubt with
        {
            All = [.. doubt.All.Where(sides => fitting.Any(one =>
                (one.North == sides.North || (isNorthOne && !isNorthKnown)) && (one.East == sides.East || (isEastOne && !isEastKnown))))],
            Written = new Candidate(isNorthKnown ? fitting[0].North : doubt.Written.North,
                isEastKnown ? fitting[0].East : doubt.Written.East),
            Asked = (isNorthKnown ? WrittenSide.Said : doubt.Asked.Latitude, isEastKnown ? WrittenSide.Said : doubt.Asked.Longitude),
            By = code ?? "",
            Likely = fitting.Length == 1 && !(isNorthKnown && isEastKnown) ? fitting[0] : null,
        };
    }

    private static (double Latitude, double Longitude) At(WrittenPlace place, Candidate sides) =>
        (sides.North * Math.Abs(place.Latitude?.Degrees ?? 0), sides.East * Math.Abs(place.Longitude?.Degrees ?? 0));

    private static CountryOutline? Home(WrittenPlace place, SidesOfAxis latitudes, SidesOfAxis longitudes)
    {
        (double latitude, double longitude) = At(place, new Candidate(latitudes.SignOf(place.Latitude!),
            longitudes.SignOf(place.Longitude!)));
        return WorldOutlines.Shipped.Countries.FirstOrDefault(country => country.Contains(latitude, longitude));
    }

    // with the other sign it lies in the country of a place whose signs are written
    private static bool IsNear(Doubt doubt, CountryOutline[] homes) => doubt.All.Where(sides => sides != doubt.Written)
        .Select(sides => At(doubt.Place, sides)).Any(at => Math.Abs(at.Latitude) <= 90
            && homes.Any(home => home.IsWithin(WorldOutlines.MostFromCountryMetres, at.Latitude, at.Longitude)));

    private static bool IsOOnly(IReadOnlyList<WrittenPlace> places, SidesOfAxis latitudes, SidesOfAxis longitudes) => places.All(place =>
        (place.Latitude is null || latitudes.SideOf(place.Latitude) == WrittenSide.Said)
        && (place.Longitude is null || longitudes.SideOf(place.Longitude) is WrittenSide.Said or WrittenSide.LetterO));

    private void Tell(string code, List<(Doubt Sides, string Country)> found, IReadOnlyList<SeenCell> seen) =>
        ask.Tell(code, found.Count, seen, string.Join("; ", found.Select(one => Known(one.Sides)).Distinct()),
            string.Join(", ", found.Select(one => one.Country).Distinct()));

    // one question for places that lack the same, unless they are said to differ
    private void Ask(string kind, Doubt[] doubts, Dictionary<WrittenPlace, Candidate> decided, IReadOnlyList<SeenCell> seen, string columns)
    {
        Candidate[] likely = [.. doubts.Select(Likely).OfType<Candidate>().Distinct()];
        Candidate? suggested = likely.Length == 1 && doubts.All(doubt => Likely(doubt) is not null) ? likely[0] : null;
        bool mayDiffer = doubts.Length > 1 && canDiffer
            && doubts.Select(doubt => doubt.Place.Name).Distinct().Count() is > 1 and <= MostAsked;
        string? answer = ask.Choose(Interview.Values, kind + suffix,
            [
                .. doubts[0].All.Select(sides => new Choice(sides.Code, Shown(sides, doubts[0].Place))),
                .. mayDiffer ? [ask.Option("each", "half-each")] : Array.Empty<Choice>(),
            ],
            suggested?.Code, seen, kind == "half-mixed" ? columns : "O");
        foreach (IGrouping<string?, Doubt> own in doubts.GroupBy(doubt => answer == "each" ? doubt.Place.Name : null))
        {
            string? said = answer != "each" ? answer
                : ask.Choose(Interview.Values, $"half-of{suffix}:{own.Key}", [.. own.First().All.Select(sides => new Choice(sides.Code,
                    Shown(sides, own.First().Place)))], Likely(own.First())?.Code, [], own.Key);
            foreach (Doubt doubt in own)
                decided[doubt.Place] = Chosen(doubt, said) ?? suggested ?? doubt.Written;
        }
    }

    // the answer says the side of what was asked; what the row says for itself stays
    private static Candidate? Chosen(Doubt doubt, string? answer) => answer is not { Length: 2 } ? null : new Candidate(
        doubt.Asked.Latitude == WrittenSide.Said ? doubt.Written.North : answer[0] == 'N' ? 1 : -1,
        doubt.Asked.Longitude == WrittenSide.Said ? doubt.Written.East : answer[1] == 'E' ? 1 : -1);

    private Candidate? Likely(Doubt doubt) => doubt.Likely is not null ? doubt.Likely
        : doubt.Asked.Longitude == WrittenSide.LetterO && letterIsEast is { } isEast ? doubt.Written with { East = isEast ? 1 : -1 } : null;

    private string Name(Candidate sides) =>
        $"{ask.Words[sides.North > 0 ? "ask.north" : "ask.south"]}, {ask.Words[sides.East > 0 ? "ask.east" : "ask.west"]}";

    // the sides that are no longer asked
    private string Known(Doubt doubt) => doubt.Asked switch
    {
        (WrittenSide.Said, WrittenSide.Said) => Name(doubt.Written),
        (WrittenSide.Said, _) => ask.Words[doubt.Written.North > 0 ? "ask.north" : "ask.south"],
        _ => ask.Words[doubt.Written.East > 0 ? "ask.east" : "ask.west"],
    };

    private string Shown(Candidate sides, WrittenPlace place)
    {
        (double latitude, double longitude) = At(place, sides);
        return string.Create(CultureInfo.InvariantCulture, $"{Name(sides)}: {latitude:0.########}, {longitude:0.########}");
    }
}
