using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Answers questions about a sheet as somebody would who knows its truth, and nothing else: what the truth does not say stays
/// open.</summary>
internal sealed class TruthAnswers(JsonElement truth)
{
    private readonly JsonElement[] _bags = [.. truth.GetProperty("bags").EnumerateArray()];

    private readonly (string Question, string Answer)[] _asked = [.. truth.GetProperty("must_ask").EnumerateArray()
        .Select(asked => (asked.GetProperty("question").GetString()!, asked.GetProperty("answer").GetString()!))];

    private readonly string _told = string.Join('\n', truth.GetProperty("must_tell").EnumerateArray().Select(told => told.GetString()));

    private readonly HashSet<string> _days = [.. truth.GetProperty("bags").EnumerateArray()
        .SelectMany(bag => new[] { "buried_on", "retrieved_on" }.Select(day => bag.GetProperty(day).GetString())).OfType<string>()];

    public string? To(Question question)
    {
        string[] parts = question.Id.Split(':', 2);
        string about = parts.ElementAtOrDefault(1) ?? "";
        return parts[0] switch
        {
            "group" => question.Choices.FirstOrDefault(choice => choice.Text == truth.GetProperty("group").GetString())?.Value,
            _ when parts[0].StartsWith("layout.", StringComparison.Ordinal) => Layout(question),
            "date-order" or "date-serial" => question.Choices.FirstOrDefault(choice => Spoken(words => words.Day)
                .Any(day => choice.Text.Contains(day, StringComparison.Ordinal)))?.Value,
            "no-day" => _bags.All(bag => Text(bag, "retrieved_on") is not null) ? "with-others" : "still-buried",
            "date-turned" => question.Seen.All(cell => _days.Contains(cell.Text)
                || Spoken(words => day => words.ShortDay(day!.Value)).Contains(cell.Text)) ? "as-is" : "turned",
            "date-year" => _days.Min()?[..4],
            "date-century" => "2000",
            "half" or "o-half" => _bags.Length == 0 ? null
                : $"{(Number(_bags[0], "latitude") >= 0 ? 'N' : 'S')}{(Number(_bags[0], "longitude") >= 0 ? 'E' : 'W')}",
            "swapped" => Answer("swapped")?.StartsWith("yes", StringComparison.Ordinal) == true ? "yes" : null,
            "role-word" => RoleOf(about),
            "fast-of" => FastOf(question),
            "masses" => Masses(question),
            "column" => Column(question, about.Split(':')[0]),
            "net-odd" => question.Choices.FirstOrDefault(choice => HasMass(choice.Text, "mass_final_g")
                || HasMass(choice.Text, "mass_initial_g"))?.Value,
            "lot" => _bags.Where(bag => Text(bag, "role") == about).Select(bag => Text(bag, "lot")).Distinct().ToArray() is [{ } lot] ? lot
                : null,
            "number" => question.Choices.FirstOrDefault(choice => Regex.Match(choice.Text, "= ([0-9.]+) g") is { Success: true } mass
                && _bags.Any(bag => new[] { "mass_initial_g", "mass_final_g" }.Any(field => Number(bag, field) is { } m
                    && Math.Abs(m - double.Parse(mass.Groups[1].Value, CultureInfo.InvariantCulture)) < 1e-9)))?.Value,
            "share-of" => Answer("of the litter") is { } of ? of.Contains("of the litter", StringComparison.Ordinal) ? "litter" : "all"
                : null,
            "basis" or "basis-lines" => Basis() switch { [true] => "gross", [false] => "litter", _ => null },
            // the truth says it of a bag, which is of both its masses
            "basis-cell" => "both",
            "basis-odd" => Basis().Length == 1 ? null : "odd",
            "word" => Answer($"\"{about}\"")?.StartsWith("lost", StringComparison.Ordinal) == true ? "lost" : null,
            "colour" => Answer("rows") is { } rows && Answer("lost") is not null && rows.Contains("lost", StringComparison.Ordinal)
                && question.Suggested == "lost" ? "lost"
                : Answer("leave out") is not null && question.Suggested == "leave-out" ? "leave-out" : question.Suggested,
            "twice" => Answer("which") is { } which
                ? which.Contains("first", StringComparison.Ordinal) ? question.Choices[0].Value
                    : which.Contains("visible", StringComparison.Ordinal) ? question.Suggested : null
                : null,
            "pairs" => Answer("one burial")?.StartsWith("yes", StringComparison.Ordinal) == true
                ? question.Choices[0].Value : null,
            "one-mass" => _told.Contains("is a mean", StringComparison.Ordinal) ? "mean" : null,
            "place-projected" or "place" => Answer("coordinates") == "not in the sheet" ? null : PlaceOf(about),
            "lines" => ArePlacesThere(question.Text) ? "yes" : "no",
            "tare" => Answer("tare")?.Contains("campaign", StringComparison.Ordinal) == true ? "campaign" : null,
            "drying-said" => "both",
            "places" => "open",
            "odd-mass" => _bags.Select(bag => Number(bag, "mass_final_g")).OfType<double>()
                .Select(mass => mass.ToString(CultureInfo.InvariantCulture))
                .FirstOrDefault(mass => mass == question.Suggested),
            "buried-on" or "retrieved-on" => _bags.Select(bag => Text(bag, parts[0].Replace('-', '_'))).Distinct().ToArray() is [{ } day]
                ? day : null,
            _ => null,
        };
    }

    // the truth says what is to be left out; where it does not, the layout's own first reading is judged by the numbers that come of it
    private string? Layout(Question question)
    {
        if (question.Id.StartsWith("layout.hidden", StringComparison.Ordinal)
            && (Answer("hidden")?.Contains("leave", StringComparison.Ordinal) == true
            || Answer("hidden")?.Contains("visible", StringComparison.Ordinal) == true))
        {
            return "leave";
        }
        return question.Suggested;
    }

    private string? Answer(string word) =>
        _asked.Where(asked => asked.Question.Contains(word, StringComparison.OrdinalIgnoreCase)).Select(asked => asked.Answer)
            .FirstOrDefault();

    private string? RoleOf(string word)
    {
        string all = string.Join(' ', _asked.Select(asked => asked.Answer)) + " " + _told;
        Match match = Regex.Match(all, $@"\b{Regex.Escape(word)}\b\s*(=|label =)?\s*(fast|slow|schnell|langsam)");
        return match.Success ? match.Groups[2].Value is "fast" or "schnell" ? "fast" : "slow" : null;
    }

    // somebody looks at the rows of a word: those whose masses are of fast bags
    private string? FastOf(Question question)
    {
        foreach (Choice word in question.Choices)
        {
            if (RoleOf(word.Value) is { } role)
                return role == "fast" ? word.Value : question.Choices.First(other => other != word).Value;
        }
        string[] fast = [.. question.Seen.Where(row => _bags.Any(bag => Text(bag, "role") == "fast" && HasBoth(row.Text, bag)))
            .Select(row => row.Text)];
        return question.Choices.FirstOrDefault(choice => fast.Length > 0 && fast.All(row => Cells(row).Contains(choice.Value)))?.Value;
    }

    private static string[] Cells(string row) => row.Split(" | ");

    private static bool HasBoth(string row, JsonElement bag)
    {
        double[] numbers = [.. Cells(row).SelectMany(Masses)];
        return Number(bag, "mass_initial_g") is { } first && Number(bag, "mass_final_g") is { } last
            && numbers.Any(mass => Math.Abs(mass - first) < 1e-6) && numbers.Any(mass => Math.Abs(mass - last) < 1e-6);
    }

    // a cell as a mass in g, written in g or in mg
    private static double[] Masses(string cell) => Regex.Match(cell.Replace("\u00A0", "", StringComparison.Ordinal), @"^\d[\d.,' ]*") is
    { Success: true } match && double.TryParse(match.Value.Replace(" ", "", StringComparison.Ordinal).Replace(',', '.'),
        NumberStyles.Float, CultureInfo.InvariantCulture, out double number) ? [number, number / 1000] : [];

    // coordinates in what the lines are taken to say must be those of all places
    private bool ArePlacesThere(string text)
    {
        double[] said = [.. Regex.Matches(text, @"(?<![\d.])\d{1,3}[.,]\d{4,}").Select(match =>
            double.Parse(match.Value.Replace(',', '.'), CultureInfo.InvariantCulture))];
        return said.Length == 0 || _bags.All(bag => new[] { "latitude", "longitude" }.All(field => Number(bag, field) is not { } degrees
            || said.Any(own => Math.Abs(own - Math.Abs(degrees)) < 1e-4)));
    }

    private bool HasMass(string cell, string field) => Masses(cell).Any(mass => _bags.Any(bag => Number(bag, field) is { } own
        && Math.Abs(own - mass) < 1e-6));

    private string? Masses(Question question)
    {
        SeenCell[][] columns = [.. question.Seen.GroupBy(cell => cell.Column).Select(own => own.ToArray())];
        return columns is not [SeenCell[] first, SeenCell[] last] ? null
            : Are(first, "mass_initial_g") && Are(last, "mass_final_g") ? "yes"
            : Are(first, "mass_final_g") && Are(last, "mass_initial_g") ? "turned" : null;
    }

    private bool Are(SeenCell[] cells, string field) => cells.Count(cell => HasMass(cell.Text, field)) is var there && there > 0
        && cells.All(cell => HasMass(cell.Text, field) || !cell.Text.Any(char.IsAsciiDigit));

    // the only column whose values are those of the truth
    private string? Column(Question question, string field)
    {
        string? of = field switch
        {
            "mass-initial" => "mass_initial_g",
            "mass-final" => "mass_final_g",
            "buried-on" => "buried_on",
            "retrieved-on" => "retrieved_on",
            _ => null,
        };
        string?[] fitting = [.. question.Seen.GroupBy(cell => cell.Column).Where(own => of is not null && (of.StartsWith("mass",
            StringComparison.Ordinal) ? Are([.. own], of) : own.All(cell => _bags.Any(bag => Text(bag, of) == cell.Text))))
            .Select(own => own.Key)];
        return fitting is [{ } only] && question.Choices.Any(choice => choice.Value == only) ? only : null;
    }

    private bool[] Basis() => [.. _bags.Select(bag => bag.GetProperty("gross").GetBoolean()).Distinct()];

    private string? PlaceOf(string site) => _bags.Where(bag => Text(bag, "site") == site)
        .Select(bag => string.Create(CultureInfo.InvariantCulture,
            $"{Number(bag, "latitude"):0.######}, {Number(bag, "longitude"):0.######}")).FirstOrDefault();

    private static string? Text(JsonElement bag, string field) => bag.GetProperty(field).GetString();

    private static double? Number(JsonElement bag, string field) =>
        bag.GetProperty(field) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : null;

    // the true days as each language writes them
    private IEnumerable<string> Spoken(Func<Phrases, Func<DateOnly?, string>> how) => SenderWords.Known
        .Select(code => how(SenderWords.Find(code)!)).SelectMany(write => _days.Select(day => write(DateOnly.ParseExact(day, "yyyy-MM-dd",
            System.Globalization.CultureInfo.InvariantCulture))));
}
