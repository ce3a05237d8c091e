using Xunit.Sdk;
using Xunit.v3;

namespace DecayAtlas.EndToEnd;

/// <summary>Classes that take minutes begin first, so that none of them is left alone on one core in the end. A name that is missing here
/// costs time and nothing else.</summary>
public sealed class LongestFirst : ITestCollectionOrderer
{
    private static readonly string[] Long =
    [
        nameof(DocumentedCommands), nameof(Installing), nameof(CheckInABrowser), nameof(AnswersAgainstTruth), nameof(WrongLitter),
        nameof(DemoFromIntakeToMap), nameof(Nights), nameof(PagesInABrowser), nameof(NothingTypedIsPublic), nameof(MutatedContributions),
        nameof(ShippedConfigurations), nameof(WhatBagsFelt), nameof(ClassesAsCovariates), nameof(PagesOfOddAtlases),
        nameof(NightWithHostileCells), nameof(GroupsCompared),
    ];

    public IReadOnlyCollection<TTestCollection> OrderTestCollections<TTestCollection>(
        IReadOnlyCollection<TTestCollection> testCollections)
        where TTestCollection : ITestCollection =>
        [.. testCollections.OrderBy(PlaceOf).ThenBy(collection => collection.TestCollectionDisplayName, StringComparer.Ordinal)];

    private static int PlaceOf<TTestCollection>(TTestCollection collection)
        where TTestCollection : ITestCollection
    {
        int place = Array.FindIndex(Long, name => collection.TestCollectionDisplayName.Contains($".{name} ", StringComparison.Ordinal));
        return place < 0 ? Long.Length : place;
    }
}
