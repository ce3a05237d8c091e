using System.Globalization;

namespace DecayAtlas.Cli.Commands.Contributing;

/// <summary>The words in which a sender is spoken to, also of a wrong option beside <c>--language</c>.</summary>
internal static class SpokenLanguage
{
    private static readonly Phrases English = SenderWords.Find("en")!;

    /// <param name="stated">What stands behind <c>--language</c>; missing where nothing does.</param>
    /// <exception cref="ConfigurationException">It is none that senders are spoken to in.</exception>
    public static Phrases Of(string? stated) => stated is null ? English : SenderWords.Find(stated)
        ?? throw Refused(English, "--language", stated, SenderWords.Known);

    /// <summary>What is said of an option that takes one of a few words.</summary>
    public static ConfigurationException Refused(Phrases words, string option, string stated, IEnumerable<string> expected) =>
        new(words.Say("option.one-of", option, stated, string.Join(", ", expected)));

    /// <exception cref="ConfigurationException">A number is none of those that an option takes.</exception>
    public static void RequireWithin(Phrases words, string option, int? stated, int least, int most)
    {
        if (stated is { } number && (number < least || number > most))
            throw new ConfigurationException(words.Say("option.range", option, Plain(number), Plain(least), Plain(most)));

        // as it is typed, without thousands set apart
        static string Plain(int number) => number.ToString(CultureInfo.InvariantCulture);
    }

    /// <param name="key">Of the text that says what is not there.</param>
    /// <exception cref="ConfigurationException">There is no such file.</exception>
    public static void RequireFile(Phrases words, string key, string path)
    {
        if (!File.Exists(path))
            throw new ConfigurationException(words.Say(key, path));
    }
}
