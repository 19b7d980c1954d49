using Xunit.Sdk;
using Xunit.v3;

// Each test measures or breaks a whole program on a small machine; two at once would judge each other.
[assembly: Parallelization(Mode = ParallelMode.None)]
