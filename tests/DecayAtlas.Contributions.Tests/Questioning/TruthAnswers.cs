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
            "date-order" => question.Choices.FirstOrDefault(choice => _days.Any(day =>
                choice.Text.Contains(day, StringComparison.Ordinal)))?.Value,
            "date-turned" => question.Seen.All(cell => _days.Contains(cell.Text)) ? "as-is" : "turned",
            "date-year" => _days.Min()?[..4],
            "date-century" => "2000",
            "half" or "o-half" => _bags.Length == 0 ? null
                : $"{(Number(_bags[0], "latitude") >= 0 ? 'N' : 'S')}{(Number(_bags[0], "longitude") >= 0 ? 'E' : 'W')}",
            "swapped" => Answer("swapped")?.StartsWith("yes", StringComparison.Ordinal) == true ? "yes" : null,
            "role-word" => RoleOf(about),
            "lot" => _bags.Where(bag => Text(bag, "role") == about).Select(bag => Text(bag, "lot")).Distinct().ToArray() is [{ } lot] ? lot
                : null,
            "number" => question.Choices.FirstOrDefault(choice => Regex.Match(choice.Text, "= ([0-9.]+) g") is { Success: true } mass
                && _bags.Any(bag => new[] { "mass_initial_g", "mass_final_g" }.Any(field => Number(bag, field) is { } m
                    && Math.Abs(m - double.Parse(mass.Groups[1].Value, CultureInfo.InvariantCulture)) < 1e-9)))?.Value,
            "share-of" => Answer("of the litter") is { } of ? of.Contains("of the litter", StringComparison.Ordinal) ? "litter" : "all"
                : null,
            "basis" => Basis() switch { [true] => "gross", [false] => "litter", _ => null },
            "basis-odd" => Basis().Length == 1 ? null : "odd",
            "word" => Answer($"\"{about}\"")?.StartsWith("lost", StringComparison.Ordinal) == true ? "lost" : null,
            "colour" => Answer("rows") is { } rows && Answer("lost") is not null && rows.Contains("lost", StringComparison.Ordinal)
                && question.Suggested == "lost" ? "lost"
                : Answer("leave out") is not null && question.Suggested == "leave-out" ? "leave-out" : question.Suggested,
            "twice" => Answer("which") is { } which
                ? which.Contains("first", StringComparison.Ordinal) ? question.Choices[0].Value
                    : which.Contains("visible", StringComparison.Ordinal) ? question.Suggested : null
                : null,
            "pairs" => Answer("one burial")?.StartsWith("yes", StringComparison.Ordinal) == true ? "by-order" : null,
            "one-mass" => _told.Contains("is a mean", StringComparison.Ordinal) ? "mean" : null,
            "place-projected" or "place" => Answer("coordinates") == "not in the sheet" ? null : PlaceOf(about),
            "lines" => "yes",
            "tare" => Answer("tare")?.Contains("campaign", StringComparison.Ordinal) == true ? "campaign" : null,
            "drying-said" => "both",
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

    private bool[] Basis() => [.. _bags.Select(bag => bag.GetProperty("gross").GetBoolean()).Distinct()];

    private string? PlaceOf(string site) => _bags.Where(bag => Text(bag, "site") == site)
        .Select(bag => string.Create(CultureInfo.InvariantCulture,
            $"{Number(bag, "latitude"):0.######}, {Number(bag, "longitude"):0.######}")).FirstOrDefault();

    private static string? Text(JsonElement bag, string field) => bag.GetProperty(field).GetString();

    private static double? Number(JsonElement bag, string field) =>
        bag.GetProperty(field) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : null;
}
