namespace DecayAtlas.Questions.Answers;

/// <summary>What is another without the noted records.</summary>
/// <param name="IsOfConclusion">Whether another conclusion would be drawn.</param>
/// <param name="Sentence">The end of a sentence that begins with what was left out.</param>
public sealed record AnswerChange(bool IsOfConclusion, string Sentence);

/// <summary>How an answer stands without the noted records.</summary>
/// <param name="NotedBurials">Accepted burials with k above 0 that are noted in the release.</param>
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
        ReleasedRates rates, Func<ReleasedRates, T> question, Func<T, T, AnswerChange> changeOf)
        where T : class
    {
        T all = question(rates);
        ReleasedNoted[] noted = [.. rates.Noted.Where(n => n.CountsLnRate)];
        if (noted.Length == 0)
            return new(all, new(0, 0, false, "No accepted burial with k above 0 is noted.", null));
        T without = question(rates.WithoutNoted());
        AnswerChange change = changeOf(all, without);
        int contributions = noted.Select(n => n.ContributionId).Distinct(StringComparer.Ordinal).Count();
        return new(all, new(
            noted.Length, contributions, change.IsOfConclusion,
            $"Without the {Counted.Of(noted.Length, "noted burial")} of {Counted.Of(contributions, "contribution")}: {change.Sentence}",
            without));
    }
}
