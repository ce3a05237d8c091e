namespace DecayAtlas.Atlas.Vocabularies;

[Table("words",
    "One row a word of the vocabulary and concept of an open vocabulary that comes close to it (skos:closeMatch, a judgement); the "
    + "columns ecosystem, land_use, management, treatment and drying, and the labels of soil groups, take their words from here.")]
public sealed record ReleasedWord
{
    [Column("list", "What it is a word for: the column, or soil_group for labels of covariates.", IsKey = true)]
    public required string List { get; init; }

    [Column("word", "The word.", IsKey = true)]
    public required string Word { get; init; }

    [Column("title", "What it means.")]
    public required string Title { get; init; }

    [Column("scheme", "The open vocabulary; missing where no concept is known to come close.", IsKey = true)]
    public string? Scheme { get; init; }

    [Column("code", "The concept's code in it.", IsKey = true)]
    public string? Code { get; init; }

    [Column("iri", "The concept's address; missing where the vocabulary has codes alone.")]
    public string? Iri { get; init; }

    [Column("from_memory", "Whether the concept was not found again in its vocabulary: check it before you rely on it.")]
    public bool? IsFromMemory { get; init; }

    /// <summary>Every word with each of its concepts, in the order of the vocabulary.</summary>
    public static IReadOnlyList<ReleasedWord> All { get; } =
    [
        .. from list in Vocabulary.Lists
           from word in list.Words
           from concept in word.CloseMatches.DefaultIfEmpty<OpenConcept?>(null)
           select new ReleasedWord
           {
               List = list.Name,
               Word = word.Word,
               Title = word.Title,
               Scheme = concept?.Scheme,
               Code = concept?.Code,
               Iri = concept?.Iri?.AbsoluteUri,
               IsFromMemory = concept?.IsFromMemory,
           },
    ];
}
