using System.Text;

namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>The words and their concepts as Markdown, a table a list.</summary>
public static class VocabularyPage
{
    public static string ToMarkdown()
    {
        StringBuilder text = new("""
            The words of the schema and the concepts of open vocabularies that come close to them (skos:closeMatch: a judgement, not an
            identity), made from `schemas/v1/vocabulary.json`. The first concept with an address is the one that a release gives. "From
            memory" stands beside what was not found again in its vocabulary: check it before you rely on it.

            """.ReplaceLineEndings("\n"));
        foreach (WordList list in Vocabulary.Lists)
        {
            text.Append($"\n### {list.Title}\n\n| word | meaning | also written | close concepts |\n| --- | --- | --- | --- |\n");
            foreach (OwnWord word in list.Words)
            {
                text.Append($"| `{word.Word}` | {word.Title} | {string.Join(", ", word.OtherSpellings)} ")
                    .Append($"| {string.Join(", ", word.CloseMatches.Select(Concept))} |\n");
            }
        }

        return text.ToString();
    }

    private static string Concept(OpenConcept concept)
    {
        string name = $"{concept.Scheme} {concept.Code}".Replace("_", "\\_", StringComparison.Ordinal);
        return (concept.Iri is { } iri ? $"[{name}]({iri.AbsoluteUri})" : name) + (concept.IsFromMemory ? " (from memory)" : "");
    }
}
