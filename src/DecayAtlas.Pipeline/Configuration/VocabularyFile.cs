namespace DecayAtlas.Pipeline.Configuration;

/// <summary>The file that says which word of ours stands for a word of a sender's (YAML, schemas/vocabulary-v1.schema.json).</summary>
public static class VocabularyFile
{
    /// <exception cref="ConfigurationException">The file is not usable; the message names file and line.</exception>
    public static LocalWords Of(PipelineConfiguration configuration) =>
        configuration.Vocabulary is { } file ? Read(file) : LocalWords.None;

    /// <exception cref="ConfigurationException">The file is not usable; the message names file and line.</exception>
    public static LocalWords Read(string path)
    {
        Section words = Section.Open(path, "vocabulary-v1.schema.json").In("words");
        return new LocalWords(Vocabulary.Lists.SelectMany(list => Of(words.In(list.Name), list)));
    }

    private static IEnumerable<(string List, string Local, string Ours)> Of(Section section, WordList list)
    {
        Dictionary<string, string> seen = new(StringComparer.Ordinal);
        foreach ((string local, string ours) in section.Texts())
        {
            string plain = WordSpelling.Plain(local);
            if (!list.Names.Contains(ours))
            {
                throw section.Wrong(local, ours, list.NearestTo(ours) is { } near ? $"a word of {list.Name}; {near} is close"
                    : $"a word of {list.Name}: {string.Join(", ", list.Names)}");
            }

            if (plain.Length == 0)
                throw section.Wrong(local, "a local word without letters or digits", "a word to map");
            if (list.Find(local) is { } own)
                throw section.Wrong(local, $"{local}, which is our {own.Word} already", "a word that is not ours; take the line out");
            if (!seen.TryAdd(plain, local))
                throw section.Wrong(local, $"{local} beside {seen[plain]}", "each word once, capitals, spaces and hyphens aside");
            yield return (list.Name, local, ours);
        }
    }
}
