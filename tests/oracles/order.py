"""The order of steps, made again with networkx from the sources: `order.py FOLDER` of random manuals."""

import sys

import networkx
from sources import each_manual, entry, natural


def graph_of(sources, made):
    """Present steps with an edge from each to those that wait for it; absent steps pass their waiting on."""
    variant, options = made["variant"], made["options"]
    here = {s["step"]: s for s in sources.steps if sources.holds(s.get("only"), variant, options)}
    graph = networkx.DiGraph()
    for step in sources.steps:
        graph.add_node(step["step"])
        for item in step.get("after", []):
            item = entry(item, "step")
            if sources.holds(item.get("only"), variant, options):
                graph.add_edge(item["step"], step["step"])
    # An absent step is taken out of the graph, its neighbours joined across it.
    for name in set(graph) - set(here):
        for before in list(graph.predecessors(name)):
            for later in list(graph.successors(name)):
                if name not in (before, later):
                    graph.add_edge(before, later)
        graph.remove_node(name)
    # A step that waits for itself only through absent ones waits for nothing, unless it says so itself.
    return here, graph


def expected(sources, made):
    here, graph = graph_of(sources, made)
    rank = {name: sources.sections.index(step["section"]) for name, step in here.items()}
    backward = sorted([b, a] for a, b in graph.edges if rank[a] > rank[b])
    order, circles = [], False
    for section in range(len(sources.sections)):
        inside = graph.subgraph(n for n in here if rank[n] == section)
        if not networkx.is_directed_acyclic_graph(inside):
            circles = True
            order.append(set(inside))
            continue
        key = {n: natural(here[n]["path"]) for n in inside}
        order.append(list(networkx.lexicographical_topological_sort(inside, key=key.get)))
    return order, circles, backward


def main(folder):
    count = acyclic = circular = backwards = 0
    for path, sources, configurations in each_manual(folder):
        count += 1
        for made in configurations:
            order, circles, backward = expected(sources, made)
            where = f"{path.name} {made['name']}"
            assert sorted(map(list, {tuple(b) for b in map(tuple, made["backward"])})) == backward, (where, made["backward"], backward)
            assert bool(made["circles"]) == circles, (where, made["circles"], order)
            at, number = 0, 0
            for section in order:
                part = made["order"][at : at + len(section)]
                numbers = made["numbers"][at : at + len(section)]
                at += len(section)
                if not section:
                    continue
                number += 1
                assert numbers == [f"{number}.{i + 1}" for i in range(len(section))], (where, numbers)
                if isinstance(section, set):
                    circular += 1
                    assert set(part) == section, (where, part, section)
                else:
                    acyclic += len(section) > 2
                    assert part == section, (where, part, section)
            assert at == len(made["order"]), (where, "steps too many")
            backwards += len(backward)
    assert acyclic > 500 and circular > 20, (acyclic, circular)
    print(f"{count} manuals agree: {acyclic} sections ordered, {circular} with circles, {backwards} pointing backward")


main(sys.argv[1])
