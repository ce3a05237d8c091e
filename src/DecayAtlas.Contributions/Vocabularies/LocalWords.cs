namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>Words of senders, each with the word of ours that stands for it, as a curator decided.</summary>
public sealed class LocalWords
{
    private readonly SortedDictionary<(string List, string Local), string> _ours;

    /// <param name="ours">By list and local word, the word of ours.</param>
    public LocalWords(IEnumerable<(string List, string Local, string Ours)> ours) =>
        _ours = new(ours.ToDictionary(w => (w.List, WordSpelling.Plain(w.Local)), w => w.Ours));

    public static LocalWords None { get; } = new([]);

    /// <summary>Every entry as text, in order: stands for all of it.</summary>
    public IEnumerable<string> Entries => _ours.Select(w => $"{w.Key.List}/{w.Key.Local}/{w.Value}");

    /// <summary>The entries that stand for a word that was sent.</summary>
    public IReadOnlyList<string> EntriesFor(IEnumerable<(WordList List, string? Sent)> words)
    {
        if (_ours.Count == 0)
            return [];
        HashSet<(string, string)> sent = [.. words.Where(w => w.Sent is not null).Select(w => (w.List.Name, WordSpelling.Plain(w.Sent!)))];
        return [.. _ours.Where(w => sent.Contains(w.Key)).Select(w => $"{w.Key.List}/{w.Key.Local}/{w.Value}")];
    }

    /// <summary>A text that is one of our words, in whatever spelling, or that a curator mapped, as our word; any other as it was
    /// sent.</summary>
    public string? InOurWords(WordList list, string? sent) =>
        sent is null ? null
        : list.Find(sent)?.Word ?? (_ours.Count == 0 ? sent : _ours.GetValueOrDefault((list.Name, WordSpelling.Plain(sent)), sent));
}
