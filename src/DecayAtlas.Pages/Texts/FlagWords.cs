namespace DecayAtlas.Pages.Texts;

/// <summary>What a flag means and what can be done, in the language of the page where it has words for it, else in English and marked
/// so.</summary>
internal static class FlagWords
{
    public static Markup Meaning(FlagMeaning? flag, Language words) => Say($"flag.{flag?.Code}", flag?.Meaning, words);

    public static Markup Mend(FlagMeaning? flag, Language words) => Say($"flag.{flag?.Code}.mend", flag?.Mend, words);

    /// <summary>What people call a flag, by its code.</summary>
    public static string Title(string code, Language words) => words.FindText($"flag.{code}.title") ?? code;

    /// <summary>The same with its code quietly beside it, for whoever looks it up in the tables.</summary>
    public static Markup TitleBeside(string code, Language words) =>
        Markup.Of($"{Title(code, words)} <span class=\"nothing\">{code}</span>");

    /// <summary>One finding: its own sentence, which is English; on pages of another language its numbers, beside which the meaning stands,
    /// and the English sentence only where it has none.</summary>
    public static Markup Finding(ReleasedFlag flag, Language words)
    {
        if (!words.IsTranslation)
            return flag.Explanation;
        if (flag.Measured is null)
        {
            return EnglishSentences.In(words, "flagged", flag.Explanation) is { } said ? words.WithDays(said)
                : Language.English(flag.Explanation);
        }

        string number = $"{words.Number(flag.Measured)} {words.Unit(flag.Unit)}".Trim();
        string measured = words.FindText($"flag.{flag.Code}.quantity") is { } quantity ? $"{quantity} {number}"
            : words.Say("said.measured", number);
        // where a number would say nothing to who reads it
        if (words.FindText($"flag.{flag.Code}.limit") is { } limit)
            return $"{measured}, {limit}";
        return flag.Limit is null ? measured
            : $"{measured}, {words.Say("said.limit", words.Number(flag.Limit), words.Unit(flag.Unit)).Trim()}";
    }

    /// <summary>The same with a colon before it, for those who read the meaning above it: nothing where all that could be said is English,
    /// which says no more than the meaning.</summary>
    public static Markup Beside(ReleasedFlag flag, Language words) => Markup.If(!words.IsTranslation || flag.Measured is not null
        || words.FindText("flag." + flag.Code) is null || EnglishSentences.In(words, "flagged", flag.Explanation) is not null,
        $"{words.Colon}{Finding(flag, words)}");

    /// <summary>What was expected where a contribution has to be mended; of an entry of its descriptor with the words of the schema, in
    /// English where the language has none for them.</summary>
    public static Markup Expected(PublicFinding finding, Language words) => finding.Place is { Meaning.Length: > 0 } place
        ? Markup.Of($"{FindingWords.Clause(finding, words)} <span class=\"nothing\">({Said("entry", place.Meaning, words)})</span>")
        : FindingWords.Expected(finding, words);

    /// <summary>An English sentence in the language of the page where it is known, else marked as English.</summary>
    /// <param name="kind">As in <see cref="EnglishSentences"/>.</param>
    public static Markup Said(string kind, string sentence, Language words) => !words.IsTranslation ? sentence
        : EnglishSentences.In(words, kind, sentence) is { } said ? said : Language.English(sentence);

    private static Markup Say(string key, string? english, Language words) => english is null ? Markup.None
        : words.FindText(key) is { } own ? own : Language.English(english);
}
