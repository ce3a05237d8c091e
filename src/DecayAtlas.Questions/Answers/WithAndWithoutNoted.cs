namespace DecayAtlas.Questions.Answers;

/// <summary>What is another without the noted records.</summary>
/// <param name="IsOfConclusion">Whether another conclusion would be drawn.</param>
/// <param name="Sentence">The end of a sentence that begins with what was left out.</param>
public sealed record AnswerChange(bool IsOfConclusion, string Sentence);

/// <summary>How an answer stands without the noted records.</summary>
/// <param name="NotedBurials">Burials of the answer that are noted in the release.</param>
/// <param name="Answer">Missing where there are none.</param>
public sealed record WithoutNoted<T>(int NotedBurials, int NotedContributions, bool ConclusionChanges, string Sentence, T? Answer)
    where T : class;

/// <summary>An answer from all accepted records, and how it stands without the noted ones. It wraps the question, which knows nothing
/// of notes.</summary>
public sealed record WithAndWithoutNoted<T>(T All, WithoutNoted<T> Without)
    where T : class;

/// <summary>Asks with and without the noted records.</summary>
public static class WithAndWithoutNoted
{
    /// <param name="question">Asked once, and again only where a noted burial may have taken part.</param>
    /// <param name="changeOf">From the answer with the noted records to that without.</param>
    public static WithAndWithoutNoted<T> Ask<T>(
        ReleasedRates rates, Func<ReleasedRates, T> question, Func<T, T, AnswerChange> changeOf, AskedOf of = AskedOf.Rate)
        where T : class
    {
        T all = question(rates);
        ReleasedNoted[] noted = [.. rates.NotedIn(of)];
        if (noted.Length == 0)
            return new(all, new(0, 0, false, $"No accepted burial with {(of == AskedOf.Rate ? "k above 0" : "S")} is noted.", null));
        int contributions = noted.Select(n => n.ContributionId).Distinct(StringComparer.Ordinal).Count();
        return Told(all, question(rates.WithoutNoted), noted.Length, contributions, changeOf);
    }

    /// <summary>The same answers told otherwise, each on its own side.</summary>
    internal static WithAndWithoutNoted<T> Retold<T>(
        this WithAndWithoutNoted<T> both, Func<T, T> all, Func<T, T> without, Func<T, T, AnswerChange> changeOf)
        where T : class =>
        both.Without.Answer is { } answer
            ? Told(all(both.All), without(answer), both.Without.NotedBurials, both.Without.NotedContributions, changeOf)
            : both with { All = all(both.All) };

    private static WithAndWithoutNoted<T> Told<T>(T all, T without, int burials, int contributions, Func<T, T, AnswerChange> changeOf)
        where T : class
    {
        AnswerChange change = changeOf(all, without);
        return new(all, new(
            burials, contributions, change.IsOfConclusion,
            $"Without the {Counted.Of(burials, "noted burial")} of {Counted.Of(contributions, "contribution")}: {change.Sentence}",
            without));
    }
}
