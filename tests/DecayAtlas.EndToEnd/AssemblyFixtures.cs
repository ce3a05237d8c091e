[assembly: AssemblyFixture(typeof(DemoRun))]
[assembly: TestCollectionOrderer(typeof(LongestFirst))]
// one class more than two cores, since classes wait for programs, browsers and servers
[assembly: Xunit.v3.Parallelization(MaxThreads = 3)]
