namespace DecayAtlas.Contributions.Words;

/// <summary>Sentences of findings, flags and answers are written in English where they are found, with what was received between their
/// words. This says them in another language: the texts of a kind in <c>Words/en.json</c> are the sentences that are known, {0}, {1}, ...
/// stand for what was received, and … for what is not said again.</summary>
public static class EnglishSentences
{
    private static readonly string[] Kinds = ["found", "expected", "mend", "flagged", "entry", "unanswered"];

    private static readonly Dictionary<string, Sentence[]> Known = Kinds.ToDictionary(
        kind => kind, kind => SenderWords.In("en")!.Where(text => text.Key.StartsWith(kind + ".", StringComparison.Ordinal))
            .Select(text => Sentence.Of(text.Key, text.Value)).OrderByDescending(sentence => sentence.Letters).ToArray());

    /// <summary>The sentence in the other language; <see langword="null"/> where it is none that is known.</summary>
    /// <param name="kind"><c>found</c>, <c>expected</c> or <c>mend</c> of findings, <c>flagged</c> of flags, <c>entry</c> of the
    /// descriptor's schema, <c>unanswered</c> of answers.</param>
    public static string? In(Phrases words, string kind, string sentence)
    {
        foreach (Sentence known in Known[kind])
        {
            if (known.Holes(sentence) is { } holes)
                return words.Say(known.Key, holes);
        }
        return null;
    }

    /// <param name="Pieces">What stands between the holes; an empty one at an end that is a hole.</param>
    /// <param name="Values">For each hole, the place of its value; -1 for one that is not said again.</param>
    private sealed record Sentence(string Key, string[] Pieces, int[] Values)
    {
        /// <summary>How much of it is fixed: the most telling is tried first.</summary>
        public int Letters { get; } = Pieces.Sum(piece => piece.Length);

        public static Sentence Of(string key, string text)
        {
            List<string> pieces = [];
            List<int> values = [];
            int from = 0;
            for (int at = 0; at < text.Length; at++)
            {
                bool isHole = text[at] == '{' && at + 2 < text.Length && text[at + 2] == '}';
                if (!isHole && text[at] != '…')
                    continue;
                pieces.Add(text[from..at]);
                values.Add(isHole ? text[at + 1] - '0' : -1);
                from = at + (isHole ? 3 : 1);
            }
            return new Sentence(key, [.. pieces, text[from..]], [.. values]);
        }

        /// <summary>What stands in the holes of the sentence, if it is this one.</summary>
        public string[]? Holes(string sentence)
        {
            if (Values.Length == 0)
                return sentence == Pieces[0] ? [] : null;
            if (!sentence.StartsWith(Pieces[0], StringComparison.Ordinal))
                return null;
            string[] holes = new string[Values.Max() + 1];
            int at = Pieces[0].Length;
            for (int i = 0; i < Values.Length; i++)
            {
                string next = Pieces[i + 1];
                bool isLast = i == Values.Length - 1;
                int end = !isLast ? sentence.IndexOf(next, at, StringComparison.Ordinal)
                    : sentence.EndsWith(next, StringComparison.Ordinal) ? sentence.Length - next.Length : -1;
                // nothing is no value
                if (end < at + (Values[i] < 0 ? 0 : 1))
                    return null;
                if (Values[i] >= 0)
                    holes[Values[i]] = sentence[at..end];
                at = end + next.Length;
            }
            return holes;
        }
    }
}
